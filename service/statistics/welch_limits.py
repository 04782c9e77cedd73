"""Limits for a difference of two means whose noises differ: two trials joined by a reference, or samples."""

from dataclasses import dataclass

import numpy as np
from scipy.stats import t as student

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


def joined_by_reference(now: Floats, then: Floats, alpha: float) -> WelchLimits | None:
    """(candidate - reference) of one trial less (baseline - reference) of another.

    now, then: differences to the reference by round, shapes (n1,) and (n0,). Limits are difference -+
    t[1 - alpha; df] sqrt(v1 / n1 + v0 / n0). None below 3 rounds in either, or where nothing varies. Source:
    Welch (1947), The generalization of Student's problem when several different population variances are
    involved, Biometrika 34, 28-35.
    """
    if min(len(now), len(then)) < FEWEST_ROUNDS:
        return None
    parts = [(float(part.var(ddof=1)) / len(part), len(part) - 1) for part in (now, then)]
    return _limits(float(now.mean() - then.mean()), parts, alpha)


def over_samples(differences: Floats, alpha: float) -> WelchLimits | None:
    """Several samples of one design against a baseline of one trial: the spread between samples enters.

    differences: sample - baseline, shape (samples, R), no NaN. The variance of their mean is the variance
    between samples over their number, plus that of the round means over the rounds (which holds the
    baseline's noise); the samples' own noise is in both, so the limits are a little wide. None below 3
    samples or 3 rounds, or where nothing varies. Source of the degrees of freedom: Satterthwaite (1946), An
    approximate distribution of estimates of variance components, Biometrics Bulletin 2, 110-114.
    """
    samples, rounds = differences.shape
    if samples < FEWEST_SAMPLES or rounds < FEWEST_ROUNDS:
        return None
    between = float(differences.mean(axis=1).var(ddof=1)) / samples
    over_rounds = float(differences.mean(axis=0).var(ddof=1)) / rounds
    parts = [(between, samples - 1), (over_rounds, rounds - 1)]
    return _limits(float(differences.mean()), parts, alpha)


def _limits(difference: float, parts: list[tuple[float, int]], alpha: float) -> WelchLimits | None:
    variance = sum(part for part, _ in parts)
    if variance <= 0.0:
        return None
    freedom = variance**2 / sum(part**2 / df for part, df in parts)
    error = float(np.sqrt(variance))
    reach = float(student.ppf(1.0 - alpha, freedom)) * error
    return WelchLimits(difference, difference - reach, difference + reach, 1.0 - alpha, error, freedom)
