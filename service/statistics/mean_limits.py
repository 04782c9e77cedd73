"""The mean of a few rounds with its interval."""

import numpy as np
from scipy.special import stdtrit

from service.statistics.pair_statistics import is_quiet, least_reach
from service.statistics.results import Floats

FEWEST_ROUNDS = 2


def mean_limits(rounds: Floats, *, level: float, floor: float = 0.0) -> tuple[float, float] | None:
    """The ends of the interval of a mean: mean -+ t[(1 + level) / 2; n - 1] sqrt(v / n).

    rounds: (n,), independent and normal. `floor` is the variance that rounding leaves in one of them, which
    does not average out on a quiet meter: where v <= 1.5 floor the ends reach at least 2 sqrt(floor). None
    below 2 rounds, or where nothing varies. Source: Student (1908), The probable error of a mean, Biometrika
    6, 1-25.
    """
    if len(rounds) < FEWEST_ROUNDS:
        return None
    variance = float(rounds.var(ddof=1))
    reach = float(stdtrit(len(rounds) - 1, (1.0 + level) / 2)) * float(np.sqrt(variance / len(rounds)))
    reach = max(reach, float(least_reach(is_quiet(variance, floor), floor)))
    mean = float(rounds.mean())
    return (mean - reach, mean + reach) if reach > 0.0 else None
