"""Is a candidate no more than the margin below its baseline, by limits of Welch's kind? Asked once."""

from collections.abc import Callable, Sequence

import numpy as np

from service.statistics.holm import holding
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS, PairedCheck
from service.statistics.results import NEEDS_MORE_RUNS
from service.statistics.welch_limits import WelchLimits

LimitsAt = Callable[[float], WelchLimits | None]
_TIED = 1e-9


def welch_checks(
    candidates: Sequence[LimitsAt], *, margin: float, alpha: float, rounds: Sequence[int]
) -> tuple[PairedCheck, ...]:
    """Check candidates, each given by its limits as a function of a one-sided alpha, all at one look.

    H0 of each: its difference is -margin or less. Steps are Holm's (see `holm`). `falls short` where the
    upper limit at alpha / k lies below -margin, which is also the alpha of the limits shown. A candidate
    without limits needs more runs; whether there are limits does not hang on alpha. rounds: of each
    candidate; they all count as the round of the decision.
    """
    shown = [limits_at(alpha / len(candidates)) for limits_at in candidates]
    p_values = {
        place: limits.noises.beyond(limits.difference + margin)
        for place, limits in enumerate(shown)
        if limits is not None
    }

    def holds_at(place: int, step: float) -> bool:
        limits = candidates[place](step)
        return limits is not None and limits.low > -margin + _tolerance(limits)

    held = holding(p_values, holds_at, alpha=alpha, open_steps=len(candidates))
    level = 1.0 - alpha / len(candidates)
    return tuple(
        _concluded(limits, p_values[place], margin=margin, held=place in held, rounds=rounds[place])
        if limits is not None
        else PairedCheck(NEEDS_MORE_RUNS, np.nan, np.nan, np.nan, level, None, rounds[place], None)
        for place, limits in enumerate(shown)
    )


def _concluded(limits: WelchLimits, p_value: float, *, margin: float, held: bool, rounds: int) -> PairedCheck:
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
