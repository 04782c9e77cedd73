"""When each run was made, and in which order, as far as the readings tell."""

from dataclasses import dataclass

import numpy as np

from service.analysis.facts import Facts
from service.statistics.results import Floats
from service.trial.codes import codes_in
from service.trial.rounds import ROW_ORDER, TIMES

NANOSECONDS_PER_HOUR = 3.6e12


@dataclass(frozen=True)
class RunTimes:
    """Hours since the first reading of the trial, (K, R): when each run began and ended.

    NaN where there is no run, or one of its readings has no time.
    """

    begin: Floats
    end: Floats

    @property
    def middle(self) -> Floats:
        """Halfway between begin and end, (K, R)."""
        return (self.begin + self.end) / 2


@dataclass(frozen=True)
class RunOrder:
    """`begin` (K, R) ascends with the order of the runs in a round, NaN without a run; `source` told it."""

    begin: Floats
    source: str


def run_times(facts: Facts) -> RunTimes:
    """The times of the runs that count."""
    at = facts.rows["at"].dt.as_unit("ns")
    known = at.notna().to_numpy()
    instants = at.astype("int64").to_numpy()
    first = int(instants[known].min()) if known.any() else 0
    hours = np.where(known, (instants - first) / NANOSECONDS_PER_HOUR, np.nan)
    return RunTimes(_least(facts, hours), -_least(facts, -hours))


def run_order(facts: Facts) -> RunOrder | None:
    """The order of the runs within each round: by their times, else by the rows where rounds were told so.

    None where neither tells it. The order of the rows says nothing where rounds, mountings or times are
    given: a table may be sorted in any way.
    """
    begin = run_times(facts).begin
    if np.isfinite(begin[facts.held]).all():
        return RunOrder(begin, TIMES)
    if facts.read_as["rounds_from"] != ROW_ORDER:
        return None
    return RunOrder(_least(facts, facts.rows["row"].to_numpy(dtype=np.float64)), ROW_ORDER)


def _least(facts: Facts, values: Floats) -> Floats:
    """The least value of each run's readings (values: one a row), (K, R); NaN without a run or with a NaN."""
    place = codes_in(facts.rows["element"], facts.ids) * facts.rounds_done
    place += np.searchsorted(facts.rounds, facts.rows["round"].to_numpy(dtype=np.int64))
    least = np.full(facts.held.size, np.inf)
    np.minimum.at(least, place, np.where(np.isnan(values), -np.inf, values))
    return np.where(np.isinf(least), np.nan, least).reshape(facts.held.shape)
