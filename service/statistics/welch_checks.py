"""Is a candidate no more than the margin below its baseline, by limits of Welch's kind? Asked once."""

from collections.abc import Callable, Sequence

import numpy as np
from scipy.stats import t as student

from service.statistics.non_inferiority import FALLS_SHORT, HOLDS, PairedCheck
from service.statistics.results import NEEDS_MORE_RUNS
from service.statistics.welch_limits import WelchLimits

LimitsAt = Callable[[float], WelchLimits | None]
_TIED = 1e-9


def welch_checks(
    candidates: Sequence[LimitsAt], *, margin: float, alpha: float, rounds: Sequence[int]
) -> tuple[PairedCheck, ...]:
    """Check candidates, each given by its limits as a function of a one-sided alpha, all at one look.

    H0 of each: its difference is -margin or less. Holm's steps as in `paired_checks`: by rising p the i-th of
    k at alpha / (k - i + 1), none holds after the first that does not. `falls short` where the upper limit at
    alpha / k lies below -margin, which is also the alpha of the limits shown. A candidate without limits
    needs more runs. rounds: of each candidate; they all count as the round of the decision. Source: Holm
    (1979), as in `non_inferiority`.
    """
    shown = [limits_at(alpha / len(candidates)) for limits_at in candidates]
    p_values = [None if limits is None else _p_value(limits, margin) for limits in shown]
    held = _holding(candidates, p_values, margin=margin, alpha=alpha)
    level = 1.0 - alpha / len(candidates)
    return tuple(
        _concluded(limits, p_values[place], margin=margin, held=place in held, rounds=rounds[place])
        if limits is not None
        else PairedCheck(NEEDS_MORE_RUNS, np.nan, np.nan, np.nan, level, None, rounds[place], None)
        for place, limits in enumerate(shown)
    )


def _p_value(limits: WelchLimits, margin: float) -> float:
    """One-sided p of "the difference is -margin or less"; 0 or 1 where nothing varies."""
    above = limits.difference + margin
    if limits.standard_error == 0.0:
        return float(above <= 0.0)
    return float(student.sf(above / limits.standard_error, limits.degrees_of_freedom))


def _holding(
    candidates: Sequence[LimitsAt], p_values: Sequence[float | None], *, margin: float, alpha: float
) -> set[int]:
    held: set[int] = set()
    ordered = sorted((p, place) for place, p in enumerate(p_values) if p is not None)
    for _, place in ordered:
        limits = candidates[place](alpha / (len(candidates) - len(held)))
        if limits is None or not limits.low > -margin + _tolerance(limits):
            break
        held.add(place)
    return held


def _concluded(
    limits: WelchLimits, p_value: float | None, *, margin: float, held: bool, rounds: int
) -> PairedCheck:
    short = limits.high < -margin - _tolerance(limits)
    outcome = HOLDS if held else FALLS_SHORT if short else NEEDS_MORE_RUNS
    return PairedCheck(
        outcome=outcome,
        difference=limits.difference,
        low=limits.low,
        high=limits.high,
        level=limits.level,
        p_value=p_value,
        rounds=rounds,
        decided_at=None if outcome == NEEDS_MORE_RUNS else rounds,
    )


def _tolerance(limits: WelchLimits) -> float:
    return _TIED * max(1.0, abs(limits.difference))
