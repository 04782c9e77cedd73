"""What was tried and left: a random-effects regression over trials, to be held against the method in use.

Weights 1 / (shift^2 + v / n) with one variance v pooled over the trials, the shift's variance by Paule and
Mandel (1982, Consensus values and weighting factors, Journal of Research of the NBS 87, 377-385), the
interval by Knapp and Hartung (2003, Improved tests for a random effects meta-regression with a single
covariate, Statistics in Medicine 22, 2693-2710); both from memory.
"""

import numpy as np
from scipy.optimize import brentq
from scipy.stats import t as student


def weighted_trend(dates, rounds, *, level):
    """Slope, low and high."""
    x = np.asarray(dates, dtype=float)
    counts = np.array([len(one) for one in rounds])
    means = np.array([one.mean() for one in rounds])
    freedom = counts - 1
    pooled = sum(df * one.var(ddof=1) for df, one in zip(freedom, rounds, strict=True)) / freedom.sum()
    errors, left = pooled / counts, len(x) - 2
    shift = 0.0
    if _fit(x, means, errors)[1] > left:
        most = 10.0 * means.var(ddof=1)
        shift = brentq(lambda shift: _fit(x, means, errors + shift)[1] - left, 0.0, most)
    slope, squares, spread = _fit(x, means, errors + shift)
    reach = student.ppf((1 + level) / 2, left) * np.sqrt(squares / left / spread)
    return slope, slope - reach, slope + reach


def _fit(x, y, variances):
    """Slope, weighted sum of squares about the line, weighted spread of x."""
    weights = 1.0 / variances
    from_mean = x - np.average(x, weights=weights)
    spread = float((weights * from_mean**2).sum())
    middle = np.average(y, weights=weights)
    slope = float((weights * from_mean * (y - middle)).sum()) / spread
    return slope, float((weights * (y - middle - slope * from_mean) ** 2).sum()), spread
