"""The trend of a history, its outcome, and what changed from the first trial to the last."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from service.analysis.checks.signals import rounding_variance
from service.analysis.histories.question import Point, SettledHistory
from service.analysis.plain_numbers import number
from service.statistics.intervals import inside_and_away, tolerance
from service.statistics.mean_limits import mean_limits
from service.statistics.results import Floats
from service.statistics.trend_over_trials import TrendOverTrials, trend_over_trials
from service.statistics.welch_limits import joined_by_reference

CREEPS, NO_CREEP, NEEDS_MORE_TRIALS = "creeps", "no creep beyond the margin", "needs more trials"
DAYS_PER_YEAR = 365.25  # of the Julian year, in which the trade's long times are told
PLACES_ALONG_THE_LINE = 25


@dataclass(frozen=True)
class Creep:
    """A trend by the day over the span of the dates, and the outcome of its change over that span."""

    trend: TrendOverTrials
    span_days: float
    outcome: str

    @property
    def change(self) -> tuple[float, float, float]:
        """The change over the span, with its lower and upper end."""
        return (
            self.trend.slope * self.span_days,
            self.trend.low * self.span_days,
            self.trend.high * self.span_days,
        )


def creep(asked: SettledHistory, *, with_struck: bool = False) -> Creep:
    """The trend over the dates.

    The margin is a difference, so it is the change over the span that is held against it, by the rule for
    every interval: `no creep beyond the margin` where it lies inside, `creeps` where it leaves out 0 and does
    not lie inside, else `needs more trials`. A pace by the year would need to be carried beyond the dates.
    """
    days = asked.days
    rounds = [point.put_back if with_struck else point.rounds for point in asked.points]
    fitted = trend_over_trials(
        days,
        rounds,
        level=asked.confidence,
        floors=floors(asked),
        along=np.linspace(0.0, days[-1], PLACES_ALONG_THE_LINE).tolist(),
    )
    assert fitted is not None  # noqa: S101 (trials, rounds and dates were counted when it was settled)
    span = float(days[-1])
    low, high = np.array([fitted.low * span]), np.array([fitted.high * span])
    inside, away = inside_and_away(
        low, high, margin=asked.margin, tol=tolerance(np.array([asked.margin, *low, *high]))
    )
    outcome = NO_CREEP if inside[0] else CREEPS if away[0] else NEEDS_MORE_TRIALS
    return Creep(fitted, span, outcome)


def floors(asked: SettledHistory) -> list[float]:
    """Of each trial the variance that rounding leaves in a difference."""
    return [rounding_variance(trial, asked.signals) for trial in asked.trials]


def trend_document(found: Creep) -> dict[str, object]:
    """The trend as it stands in the document, in meter units."""
    fitted = found.trend
    change, low, high = found.change
    return {
        "change": change,
        "low": number(low),
        "high": number(high),
        "level": fitted.level,
        "p_value": fitted.p_value,
        "span_days": found.span_days,
        "per_year": {
            "change": fitted.slope * DAYS_PER_YEAR,
            "low": number(fitted.low * DAYS_PER_YEAR),
            "high": number(fitted.high * DAYS_PER_YEAR),
        },
        "rests_on": fitted.rests_on,
        "between_sd": fitted.between_sd,
        "between_degrees_of_freedom": fitted.between_df,
        "within_error": fitted.within_error * found.span_days,
        "within_degrees_of_freedom": fitted.within_df,
        "line": [
            {"days": day, "value": at.value, "low": number(at.low), "high": number(at.high)}
            for day, at in zip(_along(found.span_days), fitted.line, strict=True)
        ],
    }


def point_document(asked: SettledHistory, place: int) -> dict[str, object]:
    """One trial of the history."""
    point: Point = asked.points[place]
    ends = mean_limits(point.rounds, level=asked.confidence, floor=floors(asked)[place])
    return {
        "trial": place,
        "date": _told(point),
        "days": float(asked.days[place]),
        "rounds": len(point.rounds),
        "difference": float(point.rounds.mean()),
        "interval": {
            "low": None if ends is None else ends[0],
            "high": None if ends is None else ends[1],
            "level": asked.confidence,
        },
    }


def first_to_last(asked: SettledHistory) -> Mapping[str, object]:
    """The same element then and now: last trial less first, limits as in a design check through a reference.

    Both ends together are right with the confidence. They hold the noise of the rounds of these two trials
    and no shift from day to day.
    """
    first, last = asked.points[0], asked.points[-1]
    alpha = (1.0 - asked.confidence) / 2
    ends = floors(asked)
    found = joined_by_reference(last.rounds, first.rounds, alpha, floors=(ends[-1], ends[0]))
    return {
        "first": _told(first),
        "last": _told(last),
        "difference": _mean(last.rounds) - _mean(first.rounds),
        "low": None if found is None else number(found.low),
        "high": None if found is None else number(found.high),
        "level": asked.confidence,
        "statement": None,
    }


def _along(span: float) -> list[float]:
    days: list[float] = np.linspace(0.0, span, PLACES_ALONG_THE_LINE).tolist()
    return days


def _mean(rounds: Floats) -> float:
    return float(rounds.mean())


def _told(point: Point) -> str:
    """RFC 3339 in UTC."""
    return point.date.isoformat().replace("+00:00", "Z")
