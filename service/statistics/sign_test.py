"""The sign test: how often the first of a pair was the better one."""

from dataclasses import dataclass
from math import comb

import numpy as np
from numpy.typing import ArrayLike

from service.statistics.ties import finite_array, tolerance


@dataclass(frozen=True)
class SignTest:
    """The answer of `sign_test`: the numbers of positive, negative and zero differences, and p."""

    positive: int
    negative: int
    ties: int
    p_value: float


def sign_test(differences: ArrayLike) -> SignTest:
    """Test whether positive and negative differences are equally frequent.

    H0: P(D_r > 0) = P(D_r < 0). Given the number n of differences that are not zero, the positive ones then
    follow the binomial law B(n, 1/2); `p_value` is twice the lesser tail, at most 1, and 1 where n is 0.
    Zeros are counted and take no part (Dixon and Mood 1946, The statistical sign test, JASA 41, 557-566).
    On pairs of yes and no this is the exact form of McNemar's test (1947, Psychometrika 12, 153-157).

    `differences` has the shape (n,). Raises ValueError for another shape or values that are not finite.
    """
    given = finite_array(differences, 1)
    within = tolerance(given)
    positive, negative = int(np.sum(given > within)), int(np.sum(given < -within))
    return SignTest(positive, negative, given.size - positive - negative, _two_sided(positive, negative))


def _two_sided(positive: int, negative: int) -> float:
    """Twice the lesser binomial tail, in whole numbers up to the one division."""
    n = positive + negative
    tail = sum(comb(n, count) for count in range(min(positive, negative) + 1))
    return min(1.0, float(2 * tail / 2**n))
