"""Random words, uniforms and normals, one stream a round, straight from numpy's Philox generator.

Philox 4x64-10: Salmon, Moraes, Dror and Shaw (2011), Parallel random numbers: as easy as 1, 2, 3.
"""

import numpy as np
from scipy.special import ndtri

BELL_SEED = 20261125
BELL_SHAPED, SHUFFLES, ROUNDS_NEEDED, SIGN_FLIPS = 1, 2, 5, 6


def words(seed, purpose, *, elements, round_number, shape, pattern=0):
    """Raw words of one round in order (draw, element); key [seed, purpose, pattern, elements, round]."""
    second = purpose * 2**48 + pattern * 2**40 + elements * 2**32 + round_number
    bits = np.random.Philox(key=np.array([seed, second], dtype=np.uint64))
    return bits.random_raw(int(np.prod(shape))).reshape(shape)


def uniforms(raw):
    """((word >> 11) + 1/2) / 2^53: strictly between 0 and 1."""
    return ((raw >> np.uint64(11)).astype(float) + 0.5) / 2.0**53


def bell_shaped(elements, round_number, draws, pattern):
    """Standard normal readings of one round, (draws, elements); pattern 1: the first 3 times as noisy."""
    raw = words(
        BELL_SEED,
        BELL_SHAPED,
        elements=elements,
        round_number=round_number,
        shape=(draws, elements),
        pattern=pattern,
    )
    readings = ndtri(uniforms(raw))
    if pattern == 1:
        readings[:, 0] *= 3.0
    return readings
