"""The trend of the level over the trial: of the reference, or of all elements together."""

from dataclasses import dataclass

import numpy as np

from service.analysis.facts import Facts
from service.analysis.run_times import run_times
from service.statistics.drift import Trend, trend
from service.statistics.least_squares import fit
from service.statistics.results import Flags, Floats

REFERENCE, ALL = "reference", "all elements"


@dataclass(frozen=True)
class Drift:
    """A trend, what it is of (`reference` is its element), and how far x goes from first to last (`length`).

    `by_hour` tells whether x is hours or the number of the run, `runs` how many points there are.
    """

    reference: str | None
    trend: Trend
    by_hour: bool
    runs: int
    length: float

    @property
    def over_trial(self) -> float:
        """The slope over the whole trial, in meter units."""
        return self.trend.slope * self.length

    def slopes(self) -> dict[str, float | None]:
        """The slope by the hour or by the run; the other one is None."""
        slope = self.trend.slope
        return {
            "slope_per_hour": slope if self.by_hour else None,
            "slope_per_run": None if self.by_hour else slope,
        }

    def document(self) -> dict[str, object]:
        """The drift part of the document; the interval is that of the slope."""
        fitted = self.trend
        return {
            "of": ALL if self.reference is None else REFERENCE,
            "element": self.reference,
            "runs": self.runs,
            **self.slopes(),
            "interval": {"low": fitted.low, "high": fitted.high, "level": fitted.level},
            "p_value": fitted.p_value,
            "over_trial": self.over_trial,
        }


def drift(facts: Facts) -> Drift | None:
    """The trend of the reference's scores, without a reference that of the rounds' levels.

    The level of a round is the mean of what its scores hold beyond the elements' effects: one point a round,
    because runs of one round share its weather. Over time where every run taken has one and they differ, else
    over the number of the run. None below three runs, three rounds.
    """
    levels = _reference(facts) if facts.trial.reference is not None else _rounds(facts)
    held = np.isfinite(levels)
    hours = _hours(facts)[held]
    by_hour = bool(np.isfinite(hours).all() and len(hours) and np.ptp(hours) > 0)
    x = hours if by_hour else np.arange(1.0, 1 + held.sum())
    fitted = trend(x, levels[held], level=facts.trial.confidence)
    if fitted is None:
        return None
    return Drift(facts.trial.reference, fitted, by_hour, int(held.sum()), float(np.ptp(x)))


def _reference(facts: Facts) -> Floats:
    """The reference's score by round, (R,); NaN without one."""
    return np.asarray(facts.table.scores[facts.index(facts.trial.reference or "")])


def _rounds(facts: Facts) -> Floats:
    """The level of each round, (R,), NaN where no element that is judged has a run."""
    scores = facts.table.scores[_taken(facts)]
    levels = np.full(facts.rounds_done, np.nan)
    used = np.isfinite(scores).any(axis=0)
    if used.any():
        beyond = scores[:, used] - fit(scores[:, used]).effects[:, None]
        levels[used] = np.nanmean(beyond, axis=0)
    return levels


def _taken(facts: Facts) -> Flags:
    """The elements whose runs make the points, (K,): the reference, else those judged, or an only one."""
    if facts.trial.reference is not None:
        return np.array([name == facts.trial.reference for name in facts.ids])
    return facts.judgement.judged if len(facts.ids) > 1 else np.ones(1, dtype=bool)


def _hours(facts: Facts) -> Floats:
    """The mean time of the runs taken in each round, (R,), NaN where one of them has none."""
    taken = _taken(facts)
    held, middle = facts.held[taken], run_times(facts).middle[taken]
    sums = np.where(held, middle, 0.0).sum(axis=0)
    return np.asarray(np.where(held.any(axis=0), sums / np.maximum(held.sum(axis=0), 1), np.nan))
