"""The RF channels that serve both trials: the scores of either are taken over these and no others."""

from dataclasses import dataclass

import numpy as np

from service.analysis.checks.question import CheckedTrial
from service.statistics.results import Floats

ONLY_THERE = "not in the level analysis of another trial"


@dataclass(frozen=True)
class Signals:
    """RF channels used, and those left out of the check: (RF channel, why, place of the trial)."""

    used: tuple[str, ...]
    left_out: tuple[tuple[str, str, int], ...]


def shared_signals(trials: tuple[CheckedTrial, ...]) -> Signals:
    """Those that entered the level analysis of every trial, in the order of the first."""
    sets = [set(trial.facts.table.rf_channels) for trial in trials]
    used = tuple(name for name in trials[0].facts.table.rf_channels if all(name in one for one in sets))
    left: list[tuple[str, str, int]] = []
    for place, trial in enumerate(trials):
        table = trial.facts.table
        left += [(name, ONLY_THERE, place) for name in table.rf_channels if name not in used]
        left += [(one.name, one.why, place) for one in table.left_out]
    return Signals(used, tuple(left))


def rounding_variance(trial: CheckedTrial, signals: Signals) -> float:
    """The variance that rounding leaves in a difference of two scores: q^2 / (6 M)."""
    return (trial.facts.table.resolution or 0.0) ** 2 / (6 * max(1, len(signals.used)))


def to_reference(
    trial: CheckedTrial, element: str, *, reference: str, signals: Signals, with_struck: bool = False
) -> Floats:
    """Score of an element less that of the reference, over the rounds that hold both, (n,)."""
    facts = trial.facts
    table = facts.put_back.table if with_struck and facts.put_back is not None else facts.table
    picked = [table.rf_channels.index(name) for name in signals.used if name in table.rf_channels]
    if not picked:
        return np.zeros(0)
    of, against = (table.elements.index(name) for name in (element, reference))
    row = (table.cells[of][:, picked] - table.cells[against][:, picked]).mean(axis=1)
    return np.asarray(row[np.isfinite(row)])
