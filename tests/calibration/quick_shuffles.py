"""The shuffled reference of many trials of one size: the same arrangements serve all of them.

The rule draws its arrangements from seed, elements and rounds alone, so trials of one size share them;
drawing them is half the work. `test_many_trials` holds the answers against the rule's own.
"""

from functools import lru_cache

import numpy as np

from service.statistics.least_squares import fit
from service.statistics.random_streams import Purpose, Stream, word_orders
from service.statistics.running_pairs import RunningPairs
from service.statistics.shuffled_maximum import (
    DRAWS,
    FEWER_FROM,
    ShuffledMaximum,
    arrangement_count,
    shuffled_maximum,
)

VALUES_AT_ONCE = 12_000  # pairs x draws worked on together


def quick_shuffles(scores, *, floor, seed, tol):
    """The shuffled maxima of complete scores (K, R)."""
    elements, rounds = scores.shape
    residuals = fit(scores).residuals
    pairs = elements * (elements - 1) // 2
    if arrangement_count(elements, rounds) != DRAWS or pairs * rounds > FEWER_FROM:
        return shuffled_maximum(residuals, floor=floor, seed=seed, tol=tol)
    filled = np.where(np.abs(residuals) > tol, residuals, 0.0)
    orders = [_orders(seed, elements, number) for number in range(1, rounds + 1)]
    step = max(250, VALUES_AT_ONCE // pairs)
    maxima = [
        _maxima(filled, [order[:, start : start + step] for order in orders], floor)
        for start in range(0, DRAWS, step)
    ]
    return ShuffledMaximum(np.sort(np.concatenate(maxima)), enumerated=False)


@lru_cache(maxsize=64)
def _orders(seed, elements, number):
    """The orders (K, draws) into which round `number` is shuffled."""
    stream = Stream(seed, Purpose.SHUFFLES, elements=elements, round_number=number)
    return np.ascontiguousarray(word_orders(stream.words(DRAWS, elements)).T)


def _maxima(filled, orders, floor):
    running = RunningPairs(len(filled), orders[0].shape[1])
    for column, order in zip(filled.T, orders, strict=True):
        running.add(column[order])
    return running.largest(floor=floor)
