"""The statistic of a pair: difference over its standard error, for one trial or for many drawn ones at once.

T = |difference| / se. se^2 = v c / 2, where c is the variance factor of the difference (2/R when complete)
and v, the variance of a difference, is the largest of the pooled one, the pair's own over the rounds both
hold, and the floor that rounding leaves. Where v is no more than 1.5 floors, rounding is most of what is
seen; it is the same in every round and does not average out, so se^2 then stays at the floor.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.statistics.least_squares import Fit, variance_factors
from service.statistics.results import Flags, Floats

NEAR_FLOOR = 1.5 * (1 + 1e-9)


@dataclass(frozen=True)
class PairTable:
    """Per pair (i < j, in order): difference, standard error and T, each of shape (pairs,)."""

    first: NDArray[np.intp]
    second: NDArray[np.intp]
    difference: Floats
    standard_error: Floats
    statistic: Floats


def pair_indices(elements: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """First and second element of every pair, in the order (0, 1), (0, 2), ..., (1, 2), ..."""
    return np.triu_indices(elements, k=1)


def pair_table(scores: Floats, fitted: Fit, *, floor: float, tol: float) -> PairTable:
    """The observed statistics; scores (K, R) with NaN, fitted the fit of the same scores."""
    first, second = pair_indices(len(scores))
    difference = fitted.effects[first] - fitted.effects[second]
    difference = np.where(np.abs(difference) <= tol, 0.0, difference)
    pooled = 2.0 * fitted.residual_ss / fitted.degrees_of_freedom
    variance = np.maximum(own_variances(scores), max(pooled, floor))
    variance = np.where(variance <= tol**2, 0.0, variance)
    error = np.sqrt(squared_error(variance, variance_factors(fitted.inverse, first, second), floor=floor))
    return PairTable(first, second, difference, error, ratio(np.abs(difference), error))


def own_variances(scores: Floats) -> Floats:
    """Variance (divisor n - 1) of each pair's differences over the n rounds both hold; 0 below 2 rounds."""
    first, second = pair_indices(len(scores))
    differences = scores[first] - scores[second]
    present = np.isfinite(differences)
    counts = present.sum(axis=1)
    filled = np.where(present, differences, 0.0)
    means = filled.sum(axis=1) / np.maximum(counts, 1)
    spread = np.where(present, differences - means[:, None], 0.0)
    return np.where(counts > 1, (spread**2).sum(axis=1) / np.maximum(counts - 1, 1), 0.0)


def squared_error(variance: Floats, factor: Floats, *, floor: float) -> Floats:
    """Squared standard error from the variance of a difference (already at least the floor)."""
    plain = variance * factor / 2.0
    return np.where(is_quiet(variance, floor), np.maximum(plain, floor), plain)


def is_quiet(variance: Floats | float, floor: float) -> Flags:
    """Whether rounding, whose variance is the floor, is most of what is seen of a variance."""
    return np.asarray(variance <= NEAR_FLOOR * floor)


def least_reach(quiet: Flags, floor: float) -> Floats:
    """How far an interval reaches at least to both sides where a meter is quiet, minus infinity elsewhere.

    2 sqrt(floor): rounding is the same in every round of a quiet meter, so it does not average out.
    """
    return np.where(quiet, 2.0 * np.sqrt(floor), -np.inf)


def ratio(size: Floats, error: Floats) -> Floats:
    """size / error, infinite where there is a size and no error, 0 where there is neither."""
    with np.errstate(divide="ignore", invalid="ignore"):
        plain = size / error
    return np.where((error == 0) & (size == 0), 0.0, plain) if (error == 0).any() else plain
