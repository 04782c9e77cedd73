"""One round only: the totals a person wrote down, and what they are worth."""

import numpy as np
from scipy.special import ndtr

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number

REMOUNTS = 10  # nine degrees of freedom, the fewest from which a known repeatability is taken
_GRID = np.linspace(-9.0, 9.0, 721)
_STEP = float(_GRID[1] - _GRID[0])
_DENSITY = np.exp(-(_GRID**2) / 2) / np.sqrt(2 * np.pi)
_BELOW = ndtr(_GRID)


def expected_range(elements: int) -> float:
    """Expected range of that many independent standard normal values.

    Integral of 1 - F^K - (1 - F)^K over the line; the trapezoid rule is exact to rounding for it. Source:
    Tippett (1925), On the extreme individuals and the range of samples, Biometrika 17, 364-387.
    """
    return float((1.0 - _BELOW**elements - (1.0 - _BELOW) ** elements).sum() * _STEP)


def range_by_chance(elements: int, share: float = 0.95) -> float:
    """The value below which the range of that many standard normal values lies with probability `share`.

    P(range <= q) = K times the integral of f(x) (F(x + q) - F(x))^(K-1), solved for q. Source: Hartley
    (1942), The range in random samples, Biometrika 32, 334-348. Raises ValueError below two elements.
    """
    if elements < 2:
        raise ValueError("a range needs two values at least")
    from scipy.optimize import brentq

    return float(brentq(lambda width: _share_within(width, elements) - share, 1e-3, 20.0, xtol=1e-13))


def one_scan(facts: Facts) -> dict[str, object] | None:
    """The one-scan part of the document; null unless exactly one round was done.

    `known_sd` is the spread of one mounting's score where the round is judged by it: no remount test is then
    asked for.
    """
    if facts.rounds_done != 1:
        return None
    unit_of, totals = _totals(facts)
    values = np.array([value for value in totals.values() if value is not None])
    comparable = len(values) > 1
    span = float(values.max() - values.min()) if comparable else None
    expected = expected_range(len(values)) if comparable else None
    by_chance = range_by_chance(len(values)) if comparable else None
    return {
        "of": unit_of,
        "unit": facts.trial.meter.unit,
        "totals": [{"element": element, "value": value} for element, value in totals.items()],
        "span": span,
        "break_even_sd": _share(span, expected),
        "span_expected_per_sd": expected,
        "span_by_chance_95": by_chance,
        "known_sd": facts.noise.sd if facts.by_known_noise else None,
        "remount_test": None if facts.by_known_noise else _remount_test(facts, _share(span, by_chance)),
        "fewest_rounds": facts.judgement.fewest_rounds,
        "hours": _hours(facts),
        "statement": None,
    }


def _share_within(width: float, elements: int) -> float:
    inside = ndtr(_GRID + width) - _BELOW
    return float(elements * (_DENSITY * inside ** (elements - 1)).sum() * _STEP)


def _totals(facts: Facts) -> tuple[str, dict[str, float | None]]:
    competing = [index for index, competes in enumerate(facts.competing) if competes]
    totals = facts.totals
    if totals is None:
        return "score", {facts.ids[k]: number(facts.judgement.scores[k]) for k in competing}
    return "total", {facts.ids[k]: number(totals.values[k]) for k in competing}


def _share(part: float | None, whole: float | None) -> float | None:
    return None if part is None or not whole else part / whole


def _remount_test(facts: Facts, sd_below: float | None) -> dict[str, object] | None:
    if not sd_below:
        return None  # no span, nothing to tell
    minutes = facts.trial.minutes_per_run
    return {
        "element": facts.trial.reference or facts.leader or facts.competing_ids[0],
        "remounts": REMOUNTS,
        "minutes": None if minutes is None else minutes * REMOUNTS,
        "sd_below": sd_below,
    }


def _hours(facts: Facts) -> dict[str, object] | None:
    minutes = facts.trial.minutes_per_run
    if minutes is None:
        return None
    remounts = None if facts.by_known_noise else minutes * REMOUNTS / 60
    fewest = facts.judgement.fewest_rounds
    return {
        "remount_test": remounts,
        "fewest_rounds": None if fewest is None else minutes * fewest * len(facts.ids) / 60,
    }
