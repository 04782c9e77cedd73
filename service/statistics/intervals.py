"""From an interval to one of the three outcomes."""

import numpy as np
from numpy.typing import NDArray

from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, WITHIN_NOISE, Flags, Floats


def tolerance(scores: Floats) -> float:
    """Differences up to this are zero: 1e-9 times the largest |score|, at least 1e-9. NaN are passed over."""
    sizes = np.abs(scores[np.isfinite(scores)])
    return 1e-9 * max(1.0, float(sizes.max(initial=0.0)))


def outcomes(low: Floats, high: Floats, *, margin: float, tol: float) -> NDArray[np.object_]:
    """Outcome of each interval [low, high], arrays of one shape.

    `within noise` inside [-margin, margin] (an end on the margin is inside), `clear winner` where it leaves
    out 0 (an end on 0 does not), else `needs more runs`; unbounded or undefined ends decide nothing.
    """
    inside, away = inside_and_away(low, high, margin=margin, tol=tol)
    named = np.full(low.shape, NEEDS_MORE_RUNS, dtype=object)
    named[inside] = WITHIN_NOISE
    named[away] = CLEAR_WINNER
    return named


def inside_and_away(low: Floats, high: Floats, *, margin: float, tol: float) -> tuple[Flags, Flags]:
    """Which intervals lie inside the margin, and which of the others leave out 0; see outcomes."""
    finite = np.isfinite(low) & np.isfinite(high)
    inside = finite & (low >= -margin - tol) & (high <= margin + tol)
    return inside, finite & ~inside & ((low > tol) | (high < -tol))


def reach(difference: Floats, error: Floats, critical: Floats) -> Floats:
    """critical x error; unbounded where there is no critical value, or a difference without any error."""
    with np.errstate(invalid="ignore"):
        plain = critical * error
    return np.where(np.isfinite(critical) & ((error > 0) | (difference == 0)), plain, np.inf)
