"""Twins and pads: each against the element that it stands for."""

from collections.abc import Iterator
from dataclasses import dataclass

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.statistics.results import CLEAR_WINNER, PairJudgement


@dataclass(frozen=True)
class ControlPair:
    """A twin or a pad (`control`) against its element (`of`): difference is of - control, ends likewise."""

    control: str
    of: str
    difference: float | None
    low: float | None
    high: float | None
    is_clear: bool
    winner: str | None


def control_pairs(facts: Facts, role: str) -> Iterator[ControlPair]:
    """Each twin or each pad (`role`) against its element."""
    for element in facts.trial.elements:
        of = element.twin_of if role == "twin" else element.pad_of
        if element.role == role and of is not None:
            yield _pair(facts, element.id, of)


def _pair(facts: Facts, control: str, of: str) -> ControlPair:
    at = {frozenset(names): index for index, names in enumerate(facts.pairs_of_ids)}
    pair = facts.judgement.pairs[at[frozenset((control, of))]]
    difference, low, high = _towards(pair, facts.index(of))
    winner = None if pair.winner is None else facts.ids[pair.winner]
    return ControlPair(control, of, difference, low, high, pair.outcome == CLEAR_WINNER, winner)


def _towards(pair: PairJudgement, first: int) -> tuple[float | None, float | None, float | None]:
    """Difference and ends of the interval, turned so that element `first` stands first."""
    difference, low, high = number(pair.difference), number(pair.low), number(pair.high)
    if pair.first == first:
        return difference, low, high
    turned = [None if value is None else -value for value in (difference, high, low)]
    return turned[0], turned[1], turned[2]
