"""Random numbers that are the same on every machine, for every batch size and worker count.

Raw 64-bit words of the Philox 4x64-10 counter generator (Salmon, Moraes, Dror and Shaw 2011, Parallel
random numbers: as easy as 1, 2, 3, Proceedings of SC11). numpy promises these words between versions;
it does not promise the methods built on them, so everything here is made from the words.
"""

from enum import IntEnum

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

BELL_SEED = 20261125


class Purpose(IntEnum):
    """What a stream is drawn for; streams of different purposes never overlap."""

    BELL_SHAPED = 1
    SHUFFLES = 2
    BOOTSTRAP_ROUNDS = 3
    BOOTSTRAP_CHANNELS = 4
    ROUNDS_NEEDED = 5
    SIGN_FLIPS = 6
    RECEPTION = 7
    RUN_ORDER = 8
    POWER = 9


class Stream:
    """The words of one round, read in order (draw, element).

    The key is [seed, purpose 2^48 + pattern 2^40 + elements 2^32 + round]; rounds count from 1. A longer
    trial therefore repeats the draws of its first rounds.
    """

    def __init__(self, seed: int, purpose: Purpose, *, elements: int, round_number: int, pattern: int = 0):
        second = (int(purpose) << 48) + (pattern << 40) + (elements << 32) + round_number
        self._bits = np.random.Philox(key=np.array([seed, second], dtype=np.uint64))

    def words(self, draws: int, width: int) -> NDArray[np.uint64]:
        """The next draws x width raw words, shape (draws, width)."""
        return self._bits.random_raw(draws * width).reshape(draws, width)

    def uniforms(self, draws: int, width: int) -> NDArray[np.float64]:
        """The next draws x width values between 0 and 1: ((word >> 11) + 1/2) 2^-53."""
        return uniform(self.words(draws, width))

    def normals(self, draws: int, width: int) -> NDArray[np.float64]:
        """The next draws x width standard normal values: the normal quantile of the uniforms."""
        values = self.uniforms(draws, width)
        return np.asarray(ndtri(values, out=values))


def word_orders(words: NDArray[np.uint64]) -> NDArray[np.intp]:
    """The order of each row of words, (draws, width): a permutation of 0 to width - 1.

    Words of 64 bits do not tie in any number of draws that will ever be made, so the fastest sort gives the
    order that a stable one gives.
    """
    return np.argsort(words, axis=1)


def uniform(words: NDArray[np.uint64]) -> NDArray[np.float64]:
    """Map raw words to values above 0 and, but for one word in 2^53, below 1; any shape."""
    values = (words >> np.uint64(11)).astype(np.float64)
    values += 0.5
    values *= 2.0**-53
    return values
