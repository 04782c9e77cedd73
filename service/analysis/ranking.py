"""Who stands where: rank by score, place by what is clearly told apart, standing towards the leader."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.analysis.facts import Facts
from service.statistics.intervals import tolerance
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, WITHIN_NOISE

LEADS = "leads"
SHARES = "shares the lead"
BEHIND = "behind the leader"
NOT_TOLD_APART = "not told apart yet"
_STANDINGS = {CLEAR_WINNER: BEHIND, WITHIN_NOISE: SHARES, NEEDS_MORE_RUNS: NOT_TOLD_APART}


@dataclass(frozen=True)
class Ranking:
    """Of each element that competes, by id; rank and place are None for one that could not be judged.

    `standings` are None without a leader and for an element that is not judged. `intervals` holds
    the ends of each element's score, from the
    leader's score and their difference; None for the leader and where there is none.
    """

    ranks: Mapping[str, int | None]
    places: Mapping[str, int | None]
    standings: Mapping[str, str | None]
    intervals: Mapping[str, tuple[float, float] | None]


def ranking(facts: Facts, *, winner: str | None) -> Ranking:
    """Rank the elements that compete; `winner` is the one that a standing decision names, if any.

    place = 1 + the number of competing elements that clearly beat it, in the table of pairs or, for the
    present leader, in the leader's own comparisons; under a standing winner the winner alone has place 1.
    """
    names = facts.competing_ids
    judged = set(facts.ids) - set(facts.not_judged)
    beaten_by = _beaten_by(facts, winner)
    return Ranking(
        _ranks(facts),
        {name: 1 + len(beaten_by[name]) if name in judged else None for name in names},
        _standings(facts),
        {name: _interval(facts, name) for name in names},
    )


def _ranks(facts: Facts) -> dict[str, int | None]:
    judgement, tol = facts.judgement, tolerance(facts.table.scores)
    places = {name: facts.index(name) for name in facts.competing_ids}
    scores = {name: float(judgement.scores[k]) for name, k in places.items() if judgement.judged[k]}
    ranks = {
        name: 1 + sum(other > score + tol for other in scores.values()) for name, score in scores.items()
    }
    return {name: ranks.get(name) for name in places}


def _beaten_by(facts: Facts, winner: str | None) -> dict[str, set[str]]:
    beaten: dict[str, set[str]] = {name: set() for name in facts.competing_ids}
    for names, pair in zip(facts.pairs_of_ids, facts.judgement.pairs, strict=True):
        if pair.winner is not None and set(names) <= beaten.keys():
            best = facts.ids[pair.winner]
            beaten[names[0] if best == names[1] else names[1]].add(best)
    for rival in facts.judgement.against:
        if rival.outcome == CLEAR_WINNER and facts.leader is not None:
            beaten[facts.ids[rival.element]].add(facts.leader)
    if winner is not None:
        beaten = {name: set() if name == winner else {*best, winner} for name, best in beaten.items()}
    return beaten


def _standings(facts: Facts) -> dict[str, str | None]:
    leader = facts.leader
    towards = {facts.ids[rival.element]: _STANDINGS[rival.outcome] for rival in facts.judgement.against}
    if leader is None:
        return dict.fromkeys(facts.competing_ids)
    return {name: LEADS if name == leader else towards.get(name) for name in facts.competing_ids}


def _interval(facts: Facts, name: str) -> tuple[float, float] | None:
    leader = facts.judgement.leader
    for rival in facts.judgement.against:
        if facts.ids[rival.element] == name and leader is not None:
            best = float(facts.judgement.scores[leader])
            return None if rival.low is None or rival.high is None else (best - rival.high, best - rival.low)
    return None
