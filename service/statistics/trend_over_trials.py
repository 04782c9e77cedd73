"""Does a quantity that was measured on several days creep? A line through trials, each counted once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtr, stdtrit

from service.statistics.pair_statistics import is_quiet
from service.statistics.results import Floats
from service.statistics.satterthwaite import satterthwaite
from service.statistics.ties import finite_array, tolerance

FEWEST_TRIALS = 3
FEWEST_ROUNDS = 2
BETWEEN, WITHIN, ROUNDING = "between trials", "within trials", "rounding"


@dataclass(frozen=True)
class LineLimits:
    """A value with the ends of its interval, NaN where nothing varies."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class TrendOverTrials:
    """The answer of `trend_over_trials`: units of the means for each unit of x.

    `low` and `high` are the ends of the slope's interval at `level`, NaN where nothing varies; `rests_on`
    names the noise that made it so wide. `p_value` is two-sided, the larger of those by both noises, None
    where rounding made the interval or nothing varies. `between_sd` is what the line leaves over of the
    means, on `between_df`; `within_error` the standard error of the slope from the rounds alone, on
    Satterthwaite's `within_df` (None: no round differs from another). `line` has the line's own values at the
    places asked for.
    """

    slope: float
    low: float
    high: float
    level: float
    p_value: float | None
    rests_on: str
    between_sd: float
    between_df: int
    within_error: float
    within_df: float | None
    line: tuple[LineLimits, ...]


def trend_over_trials(
    x: ArrayLike,
    trials: Sequence[Floats],
    *,
    level: float,
    floors: Sequence[float] | None = None,
    along: Sequence[float] = (),
) -> TrendOverTrials | None:
    """Fit mean = a + b x + shift of the day + mean noise of the rounds by least squares, and test b.

    x: of each trial, (k,). trials: k arrays of one number a round, each of shape (n_i,). H0: b = 0; shifts
    and noise independent and normal. b = S_xy / S_xx over the k means, every trial counted once, so that it
    is right on average whatever the numbers of rounds. Its interval is the wider of two:

    - between trials: b -+ t[(1 + level) / 2; k - 2] sqrt(RSS / (k - 2) / S_xx), which holds the shifts of
      days and is exact where the means are equally noisy;
    - within trials: b -+ t[(1 + level) / 2; f] sqrt(sum c_i^2 v_i / n_i), c_i = (x_i - mean x) / S_xx, v_i
      the variance over the rounds of a trial and f Satterthwaite's, so that days that happen to lie on a line
      do not promise more than their rounds do, and a noisy day at an end counts as such.

    `floors` are the variances that rounding leaves in one round of each trial: rounding of a quiet meter does
    not average out, so where some v_i <= 1.5 floor_i the ends reach at least 2 sqrt(sum c_i^2 floor_i).
    `along` are values of x at which the line itself is wanted, with an interval made in the same way.

    None below 3 trials, below 2 rounds in any, or where all x are one. Raises ValueError for arrays of other
    lengths or values that are not finite. Sources: Draper and Smith (1998), Applied Regression Analysis, 3rd
    ed., sections 1.2 to 1.4; Satterthwaite (1946), An approximate distribution of estimates of variance
    components, Biometrics Bulletin 2, 110-114; that the wider of an interval from the spread between studies
    and one from their own errors mends the first with few studies: Jackson, Law, Ruecker and Schwarzer
    (2017), The Hartung-Knapp modification for random-effects meta-analysis, Statistics in Medicine 36,
    3923-3934 (all from memory). Measured in tests/calibration/design_histories.md.
    """
    places = finite_array(x, 1)
    rounds = [finite_array(one, 1) for one in trials]
    least = np.zeros(len(rounds)) if floors is None else finite_array(floors, 1)
    if not len(places) == len(rounds) == len(least):
        raise ValueError(f"{len(places)} values of x, {len(rounds)} trials and {len(least)} floors given")
    few = len(rounds) < FEWEST_TRIALS or min(len(one) for one in rounds) < FEWEST_ROUNDS
    if few or np.ptp(places) == 0:
        return None
    return _fitted(_line_through(places, rounds, level, floors=least), along)


@dataclass(frozen=True)
class _Reach:
    """How far an interval goes to either side, by which noise, with both errors (within: and its freedom)."""

    reach: float
    rests_on: str
    between_error: float
    within_error: float
    within_df: float | None


@dataclass(frozen=True, eq=False)
class _Line:
    """The k means, their variances from rounds alone, and what the line leaves over."""

    x: Floats
    means: Floats
    squares: Floats  # v_i / n_i
    freedoms: Floats
    floors: Floats
    quiet: bool
    level: float
    slope: float
    between_sd: float

    @property
    def between_df(self) -> int:
        return len(self.x) - 2

    def at(self, x: float) -> LineLimits:
        weights = 1.0 / len(self.x) + (x - self.x.mean()) * _slope_weights(self.x)
        value, reach = float(self.means.mean() + self.slope * (x - self.x.mean())), self.reach(weights).reach
        return LineLimits(value, value - reach, value + reach)

    def reach(self, weights: Floats) -> _Reach:
        """Of a weighted sum of the means: the widest of the three."""
        chance = (1.0 + self.level) / 2
        between = self.between_sd * float(np.sqrt(np.square(weights).sum()))
        parts = np.square(weights) * self.squares
        within, freedom = float(np.sqrt(parts.sum())), satterthwaite(parts, self.freedoms)
        rounding = 2.0 * float(np.sqrt((np.square(weights) * self.floors).sum())) if self.quiet else 0.0
        by_rounds = 0.0 if freedom is None else float(stdtrit(freedom, chance)) * within
        reaches = {
            BETWEEN: float(stdtrit(self.between_df, chance)) * between,
            WITHIN: by_rounds,
            ROUNDING: rounding,
        }
        widest = max(reaches, key=lambda name: reaches[name])
        far = reaches[widest] or float("nan")
        return _Reach(far, widest, between, within, freedom)


def _line_through(x: Floats, rounds: Sequence[Floats], level: float, *, floors: Floats) -> _Line:
    means = np.array([one.mean() for one in rounds])
    variances = np.array([one.var(ddof=1) for one in rounds])
    counts = np.array([len(one) for one in rounds], dtype=np.float64)
    none = tolerance(np.concatenate(rounds))
    variances[np.sqrt(variances) <= none] = 0.0
    slope = float((_slope_weights(x) * (means - means.mean())).sum())
    if abs(slope) * np.ptp(x) <= none:
        slope = 0.0
    left = means - means.mean() - slope * (x - x.mean())
    left = np.where(np.abs(left) <= none, 0.0, left)
    return _Line(
        x=x,
        means=means,
        squares=variances / counts,
        freedoms=counts - 1.0,
        floors=floors,
        quiet=any(is_quiet(float(v), float(floor)) for v, floor in zip(variances, floors, strict=True)),
        level=level,
        slope=slope,
        between_sd=float(np.sqrt(np.square(left).sum() / (len(x) - 2))),
    )


def _fitted(line: _Line, along: Sequence[float]) -> TrendOverTrials:
    reach = line.reach(_slope_weights(line.x))
    return TrendOverTrials(
        slope=line.slope,
        low=line.slope - reach.reach,
        high=line.slope + reach.reach,
        level=line.level,
        p_value=_p_value(line, reach),
        rests_on=reach.rests_on,
        between_sd=line.between_sd,
        between_df=line.between_df,
        within_error=reach.within_error,
        within_df=reach.within_df,
        line=tuple(line.at(x) for x in along),
    )


def _p_value(line: _Line, reach: _Reach) -> float | None:
    if np.isnan(reach.reach) or reach.rests_on == ROUNDING:
        return None
    errors = ((reach.between_error, line.between_df), (reach.within_error, reach.within_df))
    return max(float(2 * stdtr(df, -abs(line.slope) / error)) for error, df in errors if error > 0.0 and df)


def _slope_weights(x: Floats) -> Floats:
    """What each mean adds to the slope: (x_i - mean x) / S_xx."""
    from_mean = x - x.mean()
    return np.asarray(from_mean / np.square(from_mean).sum())
