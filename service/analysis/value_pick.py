"""The cheapest element that is as good as the best, as far as that is settled."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.analysis.cautions.stops import Ruling
from service.analysis.facts import Facts
from service.analysis.ranking import LEADS, NOT_TOLD_APART, SHARES, Ranking
from service.statistics.results import NEEDS_MORE_RUNS, WITHIN_NOISE

CHEAPEST, ALONE, STANDS = "cheapest", "only the leader", "decision stands"
NO_COSTS, NOT_SETTLED = "no costs", "not settled"


@dataclass(frozen=True)
class _Field:
    """Who is as good as the best, and who might turn out to be; ids in the order of elements."""

    as_good: Sequence[str]
    open: Sequence[str]


def value_pick(facts: Facts, ranking: Ranking, ruled: Ruling) -> dict[str, object]:
    """The pick, why it is that one or why there is none, and what might still change it.

    As good are the leader and those within noise of it; under a standing winner the winner alone. A cost is
    `cost`, else the length at the cost per metre; all costs of a trial are in one currency. `undecided` are
    those not told apart from the leader that are cheaper than the pick or of unknown cost, and those as good
    whose cost is unknown.
    """
    if all(_amount(facts, name) is None for name in facts.competing_ids):
        return _answer(None, NO_COSTS)
    if ruled.winner is not None:
        return _answer(ruled.winner, ALONE if ruled.winner == facts.leader else STANDS)
    field = _field(facts, ranking)
    pick = _cheapest(facts, ranking, field.as_good)
    undecided = _undecided(facts, field, pick)
    if not _is_settled(facts, ruled, field, bool(undecided)):
        return _answer(None, NOT_SETTLED, undecided)
    return _answer(pick, NO_COSTS if pick is None else CHEAPEST, undecided)


def _answer(element: str | None, reason: str, undecided: Sequence[str] = ()) -> dict[str, object]:
    return {"element": element, "reason": reason, "undecided": list(undecided)}


def _field(facts: Facts, ranking: Ranking) -> _Field:
    """By the present standings; where an earlier `within noise` stands instead, by those of that look."""
    judgement, standings = facts.judgement, ranking.standings
    by_standing = {name for name, standing in standings.items() if standing in {LEADS, SHARES}}
    if judgement.outcome == WITHIN_NOISE and judgement.present_outcome == NEEDS_MORE_RUNS:
        decided = [facts.ids[index] for index in judgement.decided_among]
        return _Field([name for name in facts.competing_ids if name in {*decided, *by_standing}], ())
    as_good = [name for name in standings if name in by_standing]
    return _Field(as_good, [name for name, standing in standings.items() if standing == NOT_TOLD_APART])


def _is_settled(facts: Facts, ruled: Ruling, field: _Field, undecided: bool) -> bool:
    """Whether anything can be picked: not before there are intervals, nor while only the leader is placed
    and one that is cheaper, or may be, is not.
    """
    stopped = ruled.outcome != facts.judgement.outcome
    placed = any(rival.low is not None for rival in facts.judgement.against)
    return placed and not stopped and not (undecided and len(field.as_good) == 1)


def _amount(facts: Facts, name: str) -> float | None:
    price = facts.element(name).price
    return None if price is None else price.amount


def _cheapest(facts: Facts, ranking: Ranking, names: Sequence[str]) -> str | None:
    """The cheapest of those with a cost; of equally cheap ones the one that reads higher."""
    priced = {name: amount for name in names if (amount := _amount(facts, name)) is not None}
    last = len(facts.ids) + 1
    return min(priced, key=lambda name: (priced[name], ranking.ranks[name] or last), default=None)


def _undecided(facts: Facts, field: _Field, pick: str | None) -> list[str]:
    bound = None if pick is None else _amount(facts, pick)
    unpriced = {name for name in field.as_good if _amount(facts, name) is None}
    cheaper = {name for name in field.open if _is_cheaper(_amount(facts, name), bound)}
    return [name for name in facts.competing_ids if name in unpriced | cheaper]


def _is_cheaper(amount: float | None, bound: float | None) -> bool:
    """Whether it costs less than the bound, or might, because a cost is not known."""
    return amount is None or bound is None or amount < bound
