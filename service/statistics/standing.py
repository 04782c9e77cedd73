"""Decisions stand: what a look decided holds although a later look alone would not say so.

The error rates count a call at any look, so this costs nothing; without it many a decision would be
withdrawn later. Looks are taken from the latest back, since the latest look that decided counts.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.statistics.leader import leader_answer
from service.statistics.pair_statistics import pair_indices
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, Flags
from service.statistics.trial_looks import TrialLooks


@dataclass(frozen=True)
class StandingPairs:
    """Arrays over pairs: outcome, winner (-1: none) and the round that decided (0: none)."""

    outcome: NDArray[np.object_]
    winner: NDArray[np.int64]
    decided_at: NDArray[np.int64]


@dataclass(frozen=True)
class StandingTrial:
    """Outcome of the trial, its winner, the round that decided and who led there; null where none is."""

    outcome: str
    winner: int | None
    decided_at: int | None
    leading: tuple[int, ...] = ()


def standing_pairs(looks: TrialLooks) -> StandingPairs:
    """Per pair the outcome of the latest look that was not `needs more runs`."""
    first, second = pair_indices(len(looks.scores))
    outcome = np.full(len(first), NEEDS_MORE_RUNS, dtype=object)
    winner, decided_at = np.full(len(first), -1), np.zeros(len(first), dtype=np.int64)
    for number in range(looks.rounds, 0, -1):
        found = _new_outcomes(looks, number, open_pairs=outcome == NEEDS_MORE_RUNS)
        new = (outcome == NEEDS_MORE_RUNS) & (found != NEEDS_MORE_RUNS)
        ahead = np.where(looks.plain(number).difference > 0, first, second)
        winner[new] = np.where(found[new] == CLEAR_WINNER, ahead[new], -1)
        outcome[new], decided_at[new] = found[new], number
        if (outcome != NEEDS_MORE_RUNS).all():
            break
    return StandingPairs(outcome, winner, decided_at)


def standing_trial(looks: TrialLooks, competing: Flags) -> StandingTrial:
    """The trial's outcome by the latest look that was not `needs more runs`.

    A look that did not judge an element that is judged now (too few runs, or not joined yet) said nothing of
    it, so its decision is not the trial's any more.
    """
    judged = looks.members(looks.rounds) & competing
    for number in range(looks.rounds, 0, -1):
        if (judged & ~looks.members(number)).any():
            continue
        answer = leader_answer(looks, number, competing)
        if answer.is_look and answer.outcome != NEEDS_MORE_RUNS:
            winner = answer.leader if answer.outcome == CLEAR_WINNER else None
            return StandingTrial(answer.outcome, winner, number, answer.leading)
    return StandingTrial(NEEDS_MORE_RUNS, None, None)


def _new_outcomes(looks: TrialLooks, number: int, *, open_pairs: Flags) -> NDArray[np.object_]:
    """Outcomes by this look alone; shuffles are drawn only where they could matter to an open pair.

    The larger critical value gives the wider interval, which decides nothing that the narrower one leaves
    open.
    """
    margin, tol = looks.rule.margin, looks.setting.tol
    found = looks.plain(number).outcomes(margin=margin, tol=tol)
    if ((found != NEEDS_MORE_RUNS) & open_pairs).any():
        return looks.whole(number).outcomes(margin=margin, tol=tol)
    return found
