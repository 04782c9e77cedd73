"""T of independent normal readings: the largest of all pairs, and that of the first two elements.

Pattern 0: all elements equally noisy. Pattern 1: the first three times as noisy as the others.
"""

from functools import lru_cache

import numpy as np

from .plain_draws import bell_shaped
from .plain_fit import pair_statistics

CHUNK = 10_000


def bell_draws(elements, rounds):
    """Draws for a table of this size."""
    size = elements * (elements - 1) // 2 * rounds
    return 100_000 if size <= 1_000 else 20_000 if size <= 10_000 else 4_000


@lru_cache(maxsize=64)
def _normal_round(elements, round_number, draws, pattern):
    return bell_shaped(elements, round_number, draws, pattern)


@lru_cache(maxsize=512)
def bell_statistics(elements, rounds, draws, pattern):
    """(maximum over all pairs, T of the first pair), each (draws,), on the first `rounds` rounds."""
    by_round = [_normal_round(elements, r, draws, pattern) for r in range(1, rounds + 1)]
    largest, first_pair = [], []
    for start in range(0, draws, CHUNK):
        tables = np.stack([readings[start : start + CHUNK] for readings in by_round], axis=2)
        t = pair_statistics(tables).t
        largest.append(t.max(axis=1))
        first_pair.append(t[:, 0])
    return np.concatenate(largest), np.concatenate(first_pair)


@lru_cache(maxsize=512)
def bell_paired_t(rounds, draws):
    """t = |mean| / sqrt(variance / R) of the differences of two elements, (draws,)."""
    readings = [_normal_round(2, r, draws, 0) for r in range(1, rounds + 1)]
    differences = np.column_stack([r[:, 0] - r[:, 1] for r in readings])
    spread = np.sqrt(differences.var(axis=1, ddof=1) / rounds)
    return np.abs(differences.mean(axis=1)) / spread
