"""The straight-line trend of one quantity on another: how fast a level drifts."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtr, stdtrit

from service.statistics.results import Floats
from service.statistics.ties import finite_array, tolerance

FEWEST_POINTS = 3


@dataclass(frozen=True)
class Trend:
    """The answer of `trend`: units of y for each unit of x.

    `low` and `high` are the ends of the slope's interval at `level`; `residual_sd` is what the line leaves
    over, on `degrees_of_freedom`. On an exact line both ends are the slope itself, and p is 0, or 1 for a
    level line.
    """

    slope: float
    standard_error: float
    low: float
    high: float
    level: float
    p_value: float
    residual_sd: float
    degrees_of_freedom: int


def trend(x: ArrayLike, y: ArrayLike, *, level: float) -> Trend | None:
    """Fit y = a + b x + noise by least squares and test b.

    H0: b = 0, noise independent and normal with one variance. b = S_xy / S_xx with standard error
    sqrt(RSS / (n - 2) / S_xx); the interval is b -+ t[(1 + level) / 2; n - 2] times that, p is two-sided.
    What the line leaves over within the tolerance of 0 is 0. None below three points, or where all x are one.

    `x` and `y` have the shape (n,). Raises ValueError for other shapes or values that are not finite. Source:
    Draper and Smith (1998), Applied Regression Analysis, 3rd ed., sections 1.2 to 1.4 (from memory).
    """
    given_x, given_y = finite_array(x, 1), finite_array(y, 1)
    if given_x.shape != given_y.shape:
        raise ValueError(f"{given_x.size} values of x given, {given_y.size} of y")
    if given_x.size < FEWEST_POINTS or np.ptp(given_x) == 0:
        return None
    return _fitted(given_x, given_y, level)


def _fitted(x: Floats, y: Floats, level: float) -> Trend:
    freedom = x.size - 2
    from_mean = x - x.mean()
    spread = float(np.square(from_mean).sum())
    slope = float((from_mean * (y - y.mean())).sum() / spread)
    left = y - y.mean() - slope * from_mean
    left = np.where(np.abs(left) <= tolerance(y), 0.0, left)
    residual_sd = float(np.sqrt(np.square(left).sum() / freedom))
    error = residual_sd / float(np.sqrt(spread))
    if abs(slope) * np.ptp(x) <= tolerance(y):
        slope = 0.0
    reach = float(stdtrit(freedom, (1 + level) / 2)) * error
    p_value = _p_value(slope, error, freedom)
    return Trend(slope, error, slope - reach, slope + reach, level, p_value, residual_sd, freedom)


def _p_value(slope: float, error: float, freedom: int) -> float:
    if slope == 0.0:
        return 1.0
    return 0.0 if error == 0.0 else float(2 * stdtr(freedom, -abs(slope) / error))
