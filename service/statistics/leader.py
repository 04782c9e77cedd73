"""The leader's question: is the best score really the best?

That the leader is best is wrong only where another is as good, so this question is not charged for the
other pairs: Gutmann and Maymin (1987), Is the selected population the best?, Annals of Statistics 15,
456-461; Hung and Fithian (2019), Rank verification for exponential families, Annals of Statistics 47,
758-782 (both from memory; the promised rate is measured in tests/calibration).
"""

from dataclasses import dataclass

import numpy as np

from service.statistics.look_table import LookTable
from service.statistics.results import (
    CLEAR_WINNER,
    NEEDS_MORE_RUNS,
    WITHIN_NOISE,
    Against,
    Flags,
)
from service.statistics.trial_looks import TrialLooks


@dataclass(frozen=True)
class LeaderAnswer:
    """The leader against each other competing element that is judged; outcome by this look alone."""

    leader: int | None
    against: tuple[Against, ...]
    outcome: str
    is_look: bool

    @property
    def leading(self) -> tuple[int, ...]:
        """The leader and all that it does not clearly beat, in the order of elements."""
        beaten = {one.element for one in self.against if one.outcome == CLEAR_WINNER}
        able = [] if self.leader is None else [self.leader, *(one.element for one in self.against)]
        return tuple(sorted(element for element in able if element not in beaten))


def leader_answer(looks: TrialLooks, number: int, competing: Flags) -> LeaderAnswer:
    """Ask after this round; competing (K,): elements that may win (no twin, no pad)."""
    table = looks.plain(number)
    able = np.flatnonzero(competing & table.members & np.isfinite(table.scores))
    if not len(able):
        return LeaderAnswer(None, (), NEEDS_MORE_RUNS, False)
    best = table.scores[able].max() - looks.setting.tol
    leader = int(able[np.argmax(table.scores[able] >= best)])
    others = [int(other) for other in able if other != leader]
    against = tuple(_against(looks, number, leader, other) for other in others)
    is_look = any(table.looked[_place(table, leader, other)] for other in others)
    return LeaderAnswer(leader, against, trial_outcome([one.outcome for one in against]), is_look)


def trial_outcome(single: list[str]) -> str:
    """Outcome of the trial from the leader's outcomes against each other element."""
    if not single or NEEDS_MORE_RUNS in single:
        return NEEDS_MORE_RUNS
    return WITHIN_NOISE if WITHIN_NOISE in single else CLEAR_WINNER


def _against(looks: TrialLooks, number: int, leader: int, other: int) -> Against:
    table = looks.plain(number)
    place = _place(table, leader, other)
    low, high, difference = table.leader_low[place], table.leader_high[place], table.difference[place]
    if leader > other:
        low, high, difference = -high, -low, -difference
    finite = bool(np.isfinite(low) and np.isfinite(high))
    return Against(
        element=other,
        difference=float(difference) + 0.0 if np.isfinite(difference) else None,
        low=float(low) if finite else None,
        high=float(high) if finite else None,
        outcome=_outcome_at_last_look(looks, number, leader, other) if finite else NEEDS_MORE_RUNS,
    )


def _outcome_at_last_look(looks: TrialLooks, number: int, leader: int, other: int) -> str:
    """An element that sat out the latest rounds keeps what its last look said of it and this leader."""
    for at in range(number, 0, -1):
        table = looks.plain(at)
        place = _place(table, leader, other)
        if table.looked[place]:
            margin, tol = looks.rule.margin, looks.setting.tol
            outcome = str(table.leader_outcomes(margin=margin, tol=tol)[place])
            leads = (table.difference[place] > 0) == (leader < other)
            return outcome if leads or outcome != CLEAR_WINNER else NEEDS_MORE_RUNS
    return NEEDS_MORE_RUNS


def _place(table: LookTable, one: int, other: int) -> int:
    elements = len(table.members)
    low, high = min(one, other), max(one, other)
    return low * elements - low * (low + 1) // 2 + high - low - 1
