"""Limits for a difference whose two noises differ: two trials joined by a reference, or samples of a design.

From 6 rounds (or samples) of each on they are Welch's, below that Banerjee's. Welch's are too narrow where
few rounds carry most of the noise: 3 rounds three times as noisy as 12 passed what is a margin worse in 0.06
of simulated checks where 0.05 was promised. Banerjee's are never wrong oftener than they say, whatever the
two noises are, and cost less than counting the degrees of freedom of the smaller side alone (see
tests/calibration/design_checks.md). Sources: Welch (1947), The generalization of Student's problem when
several different population variances are involved, Biometrika 34, 28-35; Satterthwaite (1946), An
approximate distribution of estimates of variance components, Biometrics Bulletin 2, 110-114; Banerjee (1961),
On confidence interval for two-means problem based on separate estimates of variances and tabulated values of
t-variable, Sankhya A 23, 359-378 (from memory).
"""

from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np
from scipy.special import stdtr, stdtrit

from service.statistics.pair_statistics import is_quiet, least_reach
from service.statistics.results import Floats
from service.statistics.satterthwaite import satterthwaite

FEWEST_ROUNDS = 3
FEWEST_SAMPLES = 3
FEW = 6
"""Below so many rounds, or samples, of either the limits are Banerjee's."""
_SMALLEST_P, _HALF = 1e-30, 0.5


@dataclass(frozen=True)
class TwoNoises:
    """The variance of a difference as the sum of two, each estimated on its own degrees of freedom."""

    variances: tuple[float, float]
    freedoms: tuple[int, int]

    @property
    def error(self) -> float:
        """The standard error of the difference."""
        return sqrt(sum(self.variances))

    @property
    def freedom(self) -> float:
        """Satterthwaite's degrees of freedom, not rounded; NaN where nothing varies."""
        found = satterthwaite(np.array(self.variances), np.array(self.freedoms, dtype=float))
        return float("nan") if found is None else found

    @property
    def few(self) -> bool:
        """Whether either rests on too few for Welch's limits."""
        return is_few(*(df + 1 for df in self.freedoms))

    def reach(self, alpha: float) -> float:
        """How far a limit that is wrong with chance alpha, below 0.5, lies from the difference.

        Welch: t[1 - alpha; freedom] error. Banerjee: sqrt(t[1 - alpha; df1]^2 v1 + t[1 - alpha; df0]^2 v0).
        """
        if not self.error:
            return 0.0
        if not self.few:
            return float(stdtrit(self.freedom, 1.0 - alpha)) * self.error
        pairs = zip(self.variances, self.freedoms, strict=True)
        return sqrt(sum(float(stdtrit(df, alpha)) ** 2 * variance for variance, df in pairs))

    def beyond(self, distance: float) -> float:
        """The chance alpha whose limit reaches just so far: one-sided p of a difference of `distance`."""
        if not self.error:
            return float(distance <= 0.0)
        if not self.few:
            return float(stdtr(self.freedom, -distance / self.error))
        if distance < 0.0:
            return 1.0 - self.beyond(-distance)
        if distance >= self.reach(_SMALLEST_P):
            return 0.0
        from scipy.optimize import brentq

        exponent = brentq(
            lambda at: self.reach(exp(at)) - distance, log(_SMALLEST_P), log(_HALF), maxiter=500
        )
        return exp(float(exponent))


@dataclass(frozen=True)
class WelchLimits:
    """A difference with its lower and upper limit, each wrong with chance 1 - `level` at most."""

    difference: float
    low: float
    high: float
    level: float
    noises: TwoNoises


def is_few(*counts: int) -> bool:
    """Whether limits on so many rounds, or samples and rounds, are Banerjee's."""
    return min(counts) < FEW


def joined_by_reference(
    now: Floats, then: Floats, alpha: float, *, floors: tuple[float, float] = (0.0, 0.0)
) -> WelchLimits | None:
    """(candidate - reference) of one trial less (baseline - reference) of another.

    now, then: differences to the reference by round, shapes (n1,) and (n0,), independent and normal. `floors`
    are the variances that rounding leaves in a difference of each: rounding of a quiet meter does not average
    out, so where v <= 1.5 floor the limits reach at least 2 sqrt(floor1 + floor0). None below 3 rounds in
    either, or where nothing varies.
    """
    if min(len(now), len(then)) < FEWEST_ROUNDS:
        return None
    varied = now.var(ddof=1), then.var(ddof=1)
    noises = noises_of((float(varied[0]), len(now)), (float(varied[1]), len(then)))
    least = rounding_reach((float(varied[0]), float(varied[1])), floors)
    return _limits(float(now.mean() - then.mean()), max(noises.reach(alpha), least), alpha, noises=noises)


def rounding_reach(varied: tuple[float, float], floors: tuple[float, float]) -> float:
    """How far limits through a reference reach at least, from the variances of two trials' differences.

    2 sqrt(floor1 + floor0) where rounding is most of what is seen in either, minus infinity elsewhere.
    """
    quiet = is_quiet(varied[0], floors[0]) | is_quiet(varied[1], floors[1])
    return float(least_reach(quiet, sum(floors)))


def over_samples(differences: Floats, alpha: float, *, floor: float = 0.0) -> WelchLimits | None:
    """Several samples of one design against a baseline of one trial: the spread between samples enters.

    differences: sample - baseline, shape (samples, R), no NaN. The variance of their mean is the variance
    between samples over their number, plus that of the round means over the rounds (which holds the
    baseline's noise); the samples' own noise is in both, so the limits are a little wide. `floor` as in
    `joined_by_reference`, for the round means. None below 3 samples or 3 rounds, or where nothing varies.
    """
    samples, rounds = differences.shape
    if samples < FEWEST_SAMPLES or rounds < FEWEST_ROUNDS:
        return None
    varied = float(differences.mean(axis=0).var(ddof=1))
    noises = noises_of((float(differences.mean(axis=1).var(ddof=1)), samples), (varied, rounds))
    reach = max(noises.reach(alpha), float(least_reach(is_quiet(varied, floor), floor)))
    return _limits(float(differences.mean()), reach, alpha, noises=noises)


def noises_of(one: tuple[float, int], other: tuple[float, int]) -> TwoNoises:
    """Those of the difference of two means, each from the variance of one value and the number of values."""
    variances = one[0] / one[1], other[0] / other[1]
    return TwoNoises(variances, (one[1] - 1, other[1] - 1))


def _limits(difference: float, reach: float, alpha: float, *, noises: TwoNoises) -> WelchLimits | None:
    if reach <= 0.0:
        return None
    return WelchLimits(difference, difference - reach, difference + reach, 1.0 - alpha, noises)
