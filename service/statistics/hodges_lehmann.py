"""The Hodges-Lehmann estimate of a paired difference, with its exact interval."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from service.statistics.results import Floats
from service.statistics.signed_rank import rank_sum_law
from service.statistics.ties import finite_array


@dataclass(frozen=True)
class HodgesLehmann:
    """The answer of `hodges_lehmann`.

    `level` is the confidence achieved, at least the one asked for. Too few differences: `low`, `high` and
    `level` are None; none at all: `estimate` too.
    """

    estimate: float | None
    low: float | None
    high: float | None
    level: float | None


def hodges_lehmann(differences: ArrayLike, level: float) -> HodgesLehmann:
    """Estimate the centre theta of paired differences and an interval that does not lean on a bell shape.

    The estimate is the median of the n(n+1)/2 Walsh averages (D_i + D_j)/2, i <= j, zeros kept. The interval
    holds every theta that the signed-rank test of H0: D_r - theta is symmetric about 0 does not reject: from
    the k-th smallest to the k-th largest Walsh average, with k the largest for which
    P(W <= k - 1) <= (1 - level)/2, W the sum of positive ranks without ties. With ties this law is kept and
    the interval errs on the wide side.

    `differences` has the shape (n,). Raises ValueError for another shape, values that are not finite or a
    level outside 0 to 1. Sources: Hodges and Lehmann (1963), Estimates of location based on rank tests,
    Annals of Mathematical Statistics 34, 598-611; Tukey (1949) in Hollander and Wolfe (1973),
    Nonparametric Statistical Methods, section 3.3.
    """
    given = finite_array(differences, 1)
    if not 0 < level < 1:
        raise ValueError(f"level {level} given, a share between 0 and 1 wanted")
    if not given.size:
        return HodgesLehmann(None, None, None, None)
    averages = _walsh_averages(given)
    order, achieved = _order(given.size, level)
    estimate = float(np.median(averages))
    if not order:
        return HodgesLehmann(estimate, None, None, None)
    ends = np.partition(averages, [order - 1, averages.size - order])
    return HodgesLehmann(estimate, float(ends[order - 1]), float(ends[averages.size - order]), achieved)


def _walsh_averages(values: Floats) -> Floats:
    first, second = np.triu_indices(values.size)
    return np.asarray((values[first] + values[second]) / 2)


def _order(n: int, level: float) -> tuple[int, float]:
    """How many Walsh averages to go in from either side, and the level that this achieves."""
    law = rank_sum_law(np.arange(1, n + 1), n * (n + 1) // 4)
    below = np.cumsum(law)
    order = int(np.searchsorted(below, (1 - level) / 2, side="right"))
    return order, 1 - 2 * float(below[order - 1])
