"""A lasting step in a series of equal runs: before and after some round, two levels."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import stdtr

from service.statistics.results import Floats
from service.statistics.ties import finite_array, tolerance

FEWEST_A_SIDE = 2


@dataclass(frozen=True)
class LevelShift:
    """The answer of `level_shift`: the step that stands out most.

    `before` is how many runs stand before it, `shift` the mean after it less the mean before it, `sd` the
    pooled standard deviation of the two parts, `statistic` t, `p_value` adjusted for all places tried.
    """

    before: int
    shift: float
    sd: float
    statistic: float
    p_value: float


def level_shift(series: ArrayLike, *, least_variance: float = 0.0) -> LevelShift | None:
    """Test whether a series keeps one level, against one step at an unknown place.

    H0: the n values are independent and normal with one mean and one variance. For each split with two values
    or more on either side t = (mean after - mean before) / (sd sqrt(1/i + 1/(n - i))), sd pooled on n - 2
    degrees of freedom; the largest |t| counts, and its two-sided p is multiplied by the number of splits
    (Bonferroni, an upper bound). `least_variance` is what a meter's rounding alone leaves in a value: the
    pooled variance is at least that, so that a quiet meter does not see a step in its last digit.

    `series` has the shape (n,), in order of time. None below four values, and where all are one. Raises
    ValueError for another shape or values that are not finite. Source: Worsley (1979), On the likelihood
    ratio test for a shift in location of normal populations, JASA 74, 365-367 (from memory).
    """
    values = finite_array(series, 1)
    if values.size < 2 * FEWEST_A_SIDE or np.ptp(values) <= tolerance(values):
        return None
    before = np.arange(FEWEST_A_SIDE, values.size - FEWEST_A_SIDE + 1)
    shift, variance = _splits(values - values.mean(), before)
    variance = np.maximum(variance, max(least_variance, tolerance(values) ** 2))
    statistics = shift / np.sqrt(variance * (1 / before + 1 / (values.size - before)))
    best = int(np.argmax(np.abs(statistics)))
    tail = 2 * float(stdtr(values.size - 2, -abs(statistics[best])))
    return LevelShift(
        before=int(before[best]),
        shift=float(shift[best]),
        sd=float(np.sqrt(variance[best])),
        statistic=float(statistics[best]),
        p_value=min(1.0, before.size * tail),
    )


def _splits(centred: Floats, before: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Shift and pooled variance for each number of values before the step; the series has mean 0."""
    after = centred.size - before
    first = np.cumsum(centred)[before - 1]
    shift = -first / after - first / before
    within = np.square(centred).sum() - np.square(first) * (1 / before + 1 / after)
    return shift, np.maximum(within, 0.0) / (centred.size - 2)
