"""Limits for a difference of two means whose noises differ: two trials joined by a reference, or samples."""

from dataclasses import dataclass

import numpy as np
from scipy.stats import t as student

from service.statistics.pair_statistics import NEAR_FLOOR
from service.statistics.results import Floats

FEWEST_ROUNDS = 3
FEWEST_SAMPLES = 3


@dataclass(frozen=True)
class WelchLimits:
    """A difference with its lower and upper limit, each wrong with chance 1 - `level` at most.

    `standard_error` and Satterthwaite's `degrees_of_freedom`, which are not rounded.
    """

    difference: float
    low: float
    high: float
    level: float
    standard_error: float
    degrees_of_freedom: float


def joined_by_reference(
    now: Floats, then: Floats, alpha: float, *, floors: tuple[float, float] = (0.0, 0.0)
) -> WelchLimits | None:
    """(candidate - reference) of one trial less (baseline - reference) of another.

    now, then: differences to the reference by round, shapes (n1,) and (n0,). Limits are difference -+
    t[1 - alpha; df] sqrt(v1 / n1 + v0 / n0). `floors` are the variances that rounding leaves in a difference
    of each: rounding of a quiet meter does not average out, so where v <= 1.5 floor the limits reach at
    least 2 sqrt(floor1 + floor0). None below 3 rounds in either, or where nothing varies. Source: Welch
    (1947), The generalization of Student's problem when several different population variances are
    involved, Biometrika 34, 28-35.
    """
    if min(len(now), len(then)) < FEWEST_ROUNDS:
        return None
    variances = [float(part.var(ddof=1)) for part in (now, then)]
    quiet = any(v <= NEAR_FLOOR * floor for v, floor in zip(variances, floors, strict=True))
    parts = [(v / len(part), len(part) - 1) for v, part in zip(variances, (now, then), strict=True)]
    return _limits(float(now.mean() - then.mean()), parts, alpha, least=sum(floors) if quiet else 0.0)


def over_samples(differences: Floats, alpha: float, *, floor: float = 0.0) -> WelchLimits | None:
    """Several samples of one design against a baseline of one trial: the spread between samples enters.

    differences: sample - baseline, shape (samples, R), no NaN. The variance of their mean is the variance
    between samples over their number, plus that of the round means over the rounds (which holds the
    baseline's noise); the samples' own noise is in both, so the limits are a little wide. `floor` as in
    `joined_by_reference`, for the round means. None below 3 samples or 3 rounds, or where nothing varies.
    Source of the degrees of freedom: Satterthwaite (1946), An
    approximate distribution of estimates of variance components, Biometrics Bulletin 2, 110-114.
    """
    samples, rounds = differences.shape
    if samples < FEWEST_SAMPLES or rounds < FEWEST_ROUNDS:
        return None
    between = float(differences.mean(axis=1).var(ddof=1)) / samples
    varied = float(differences.mean(axis=0).var(ddof=1))
    parts = [(between, samples - 1), (varied / rounds, rounds - 1)]
    least = floor if varied <= NEAR_FLOOR * floor else 0.0
    return _limits(float(differences.mean()), parts, alpha, least=least)


def _limits(
    difference: float, parts: list[tuple[float, int]], alpha: float, *, least: float
) -> WelchLimits | None:
    """`least`: what rounding alone leaves, a variance that no number of rounds lowers."""
    variance = sum(part for part, _ in parts)
    if variance <= 0.0 and least <= 0.0:
        return None
    varied = sum(part**2 / df for part, df in parts)
    freedom = variance**2 / varied if varied else float(min(df for _, df in parts))
    error = float(np.sqrt(variance))
    reach = max(float(student.ppf(1.0 - alpha, freedom)) * error, 2.0 * float(np.sqrt(least)))
    return WelchLimits(difference, difference - reach, difference + reach, 1.0 - alpha, error, freedom)
