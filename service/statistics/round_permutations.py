"""Totals of elements when the values of each round are dealt out anew among the elements.

Friedman's and Cochran's statistics depend on the arrangement only through the sum of the squared totals;
what else they hold is the same in every arrangement. The values are whole numbers, so ties are exact.
"""

from itertools import permutations
from math import factorial

import numpy as np
from numpy.typing import NDArray

from service.statistics.random_streams import Purpose, Stream, word_orders

DRAWS = 19_999
ENUMERATED_UP_TO = 20_000
_AT_ONCE = 1_000  # draws: larger arrays leave the cache


def square_sum(values: NDArray[np.int64]) -> int:
    """The sum over elements of the squared total over rounds; `values` has the shape (K, R)."""
    return int(np.square(values.sum(axis=1)).sum())


def can_be_enumerated(elements: int, rounds: int) -> bool:
    """Whether the (K!)^R arrangements are at most 20 000."""
    arrangements: int = factorial(elements) ** rounds
    return arrangements <= ENUMERATED_UP_TO


def enumerated_share(values: NDArray[np.int64]) -> float:
    """The share of all (K!)^R arrangements whose sum of squares reaches the one observed.

    `values` has the shape (K, R). The observed arrangement is one of those counted, so nothing is added.
    """
    orders = np.array(list(permutations(range(values.shape[0]))))
    totals = np.zeros((1, values.shape[0]), dtype=np.int64)
    for held in values.T:
        totals = (totals[:, None, :] + held[orders]).reshape(-1, values.shape[0])
    return float(np.mean(np.square(totals).sum(axis=1) >= square_sum(values)))


def drawn_share(values: NDArray[np.int64], *, seed: int, purpose: Purpose) -> float:
    """The share of 19 999 drawn arrangements, the observed one added, whose sum of squares reaches its.

    `values` has the shape (K, R). One stream a round; an arrangement is the stable order of its words.
    Adding the observed one keeps the test's level (Phipson and Smyth 2010, Permutation p-values should
    never be zero, Statistical Applications in Genetics and Molecular Biology 9, article 39).
    """
    elements, rounds = values.shape
    streams = [Stream(seed, purpose, elements=elements, round_number=r + 1) for r in range(rounds)]
    reached = 0
    for start in range(0, DRAWS, _AT_ONCE):
        totals = np.zeros((min(_AT_ONCE, DRAWS - start), elements), dtype=np.int64)
        for stream, held in zip(streams, values.T, strict=True):
            totals += held[word_orders(stream.words(*totals.shape))]
        reached += int(np.sum(np.square(totals).sum(axis=1) >= square_sum(values)))
    return (1 + reached) / (1 + DRAWS)
