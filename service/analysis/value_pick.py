"""The cheapest element that is as good as the best, and the quickest to make, as far as that is settled."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from service.analysis.cautions.stops import Ruling
from service.analysis.facts import Facts
from service.analysis.ranking import LEADS, NOT_TOLD_APART, SHARES, Ranking
from service.statistics.results import NEEDS_MORE_RUNS, WITHIN_NOISE

CHEAPEST, QUICKEST, ALONE, STANDS = "cheapest", "quickest", "only the leader", "decision stands"
NO_COSTS, NOT_SETTLED = "no costs", "not settled"
COST, MINUTES = "cost", "minutes to make"
STATED, BY_LENGTH = "cost", "cost per metre and length"
AmountOf = Callable[[Facts, str], float | None]


@dataclass(frozen=True)
class _Field:
    """Who is as good as the best, and who might turn out to be; ids in the order of elements."""

    as_good: Sequence[str]
    open: Sequence[str]


@dataclass(frozen=True)
class _Choice:
    """The one with the least of some amount among those as good, and who might have less."""

    element: str | None
    undecided: Sequence[str]
    settled: bool


def value_pick(facts: Facts, ranking: Ranking, ruled: Ruling) -> dict[str, object]:
    """The pick, what it was made by, why it is that one or why there is none, what might still change it.

    As good are the leader and those within noise of it; under a standing winner the winner alone. The pick is
    made by cost (`cost`, else the length at the cost per metre; all costs of a trial are in one currency),
    where nobody gave one by the minutes to make. `undecided` are those not told apart from the leader that
    are cheaper than the pick or of unknown cost, and those as good whose cost is unknown. Of equally cheap
    ones the quicker to make is taken, then the one that reads higher. `quickest` asks the same of minutes.
    """
    basis = next((name for name in (COST, MINUTES) if _is_known(facts, _AMOUNTS[name])), None)
    quickest = _quickest(facts, ranking, ruled)
    if basis is None:
        return _answer(facts, None, NO_COSTS)
    if ruled.winner is not None:
        why = ALONE if ruled.winner == facts.leader else STANDS
        return _answer(facts, _Choice(ruled.winner, (), settled=True), why, quickest=quickest)
    choice = _choice(facts, ranking, ruled, _AMOUNTS[basis])
    told = {COST: CHEAPEST, MINUTES: QUICKEST}[basis]
    why = (NO_COSTS if choice.element is None else told) if choice.settled else NOT_SETTLED
    return _answer(facts, choice, why, basis=basis, quickest=quickest)


def _answer(
    facts: Facts,
    choice: _Choice | None,
    reason: str,
    *,
    basis: str | None = None,
    quickest: dict[str, object] | None = None,
) -> dict[str, object]:
    element = choice.element if choice is not None and choice.settled else None
    return {
        "element": element,
        "basis": basis,
        "reason": reason,
        "undecided": [] if choice is None else list(choice.undecided),
        "price": None if element is None else _price(facts, element),
        "minutes": None if element is None else _minutes(facts, element),
        "quickest": quickest,
    }


def _quickest(facts: Facts, ranking: Ranking, ruled: Ruling) -> dict[str, object] | None:
    """The quickest to make of those as good; None without any minutes, or where a winner leaves no choice."""
    if ruled.winner is not None or not _is_known(facts, _minutes):
        return None
    choice = _choice(facts, ranking, ruled, _minutes)
    element = choice.element if choice.settled else None
    minutes = None if element is None else _minutes(facts, element)
    return {"element": element, "minutes": minutes, "undecided": list(choice.undecided)}


def _choice(facts: Facts, ranking: Ranking, ruled: Ruling, amount_of: AmountOf) -> _Choice:
    field = _field(facts, ranking)
    amounts = {name: amount_of(facts, name) for name in facts.competing_ids}
    pick = _least(facts, ranking, {name: amounts[name] for name in field.as_good})
    undecided = _undecided(field, pick, amounts)
    return _Choice(pick, undecided, settled=_is_settled(facts, ruled, field, bool(undecided)))


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


def _least(facts: Facts, ranking: Ranking, amounts: dict[str, float | None]) -> str | None:
    """The least of the known amounts; of equal ones the cheaper, the quicker, the one that reads higher."""
    known = {name: amount for name, amount in amounts.items() if amount is not None}
    last = len(facts.ids) + 1
    return min(
        known,
        key=lambda name: (
            known[name],
            _or_most(_cost(facts, name)),
            _or_most(_minutes(facts, name)),
            ranking.ranks[name] or last,
        ),
        default=None,
    )


def _undecided(field: _Field, pick: str | None, amounts: dict[str, float | None]) -> list[str]:
    bound = None if pick is None else amounts[pick]
    unknown = {name for name in field.as_good if amounts[name] is None}
    less = {name for name in field.open if _is_less(amounts[name], bound)}
    return [name for name in amounts if name in unknown | less]


def _is_less(amount: float | None, bound: float | None) -> bool:
    """Whether it is less than the bound, or might be, because it is not known."""
    return amount is None or bound is None or amount < bound


def _is_known(facts: Facts, amount_of: AmountOf) -> bool:
    return any(amount_of(facts, name) is not None for name in facts.competing_ids)


def _or_most(amount: float | None) -> float:
    return float("inf") if amount is None else amount


def _cost(facts: Facts, name: str) -> float | None:
    price = facts.element(name).price
    return None if price is None else price.amount


def _minutes(facts: Facts, name: str) -> float | None:
    return facts.element(name).minutes_to_make


def _price(facts: Facts, name: str) -> dict[str, object] | None:
    """The cost of one, and what it was taken from."""
    element = facts.element(name)
    if element.price is None:
        return None
    return {
        "amount": element.price.amount,
        "currency": element.price.currency,
        "from": STATED if element.cost is not None else BY_LENGTH,
    }


_AMOUNTS: Final[dict[str, AmountOf]] = {COST: _cost, MINUTES: _minutes}
