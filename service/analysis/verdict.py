"""The part of the document that answers the question."""

from collections.abc import Sequence

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.stops import Ruling
from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.analysis.reasons import reasons


def verdict(facts: Facts, ruled: Ruling, stops: Sequence[Caution]) -> dict[str, object]:
    """Outcome, winner, leaders, reasons, rounds still needed; sentences are filled in later."""
    judgement = facts.judgement
    return {
        "outcome": ruled.outcome,
        "winner": ruled.winner,
        "leading": [facts.ids[index] for index in judgement.leading],
        "decided_at_round": None if stops else facts.label(judgement.decided_at),
        "against": _against(facts),
        "statement": None,
        "reception_statement": None,
        "reasons": reasons(facts, stops),
        "rounds_done": facts.rounds_done,
        "more_rounds": None if stops else judgement.more_rounds,
        "more_rounds_safe": None if stops else judgement.more_rounds_safe,
        "fewest_rounds": judgement.fewest_rounds,
        "hours": None if facts.hours_per_round is None else _hours(facts, stopped=bool(stops)),
    }


def _against(facts: Facts) -> list[dict[str, object]]:
    return [
        {
            "element": facts.ids[rival.element],
            "difference": number(rival.difference),
            "low": number(rival.low),
            "high": number(rival.high),
            "outcome": rival.outcome,
        }
        for rival in facts.judgement.against
    ]


def _hours(facts: Facts, *, stopped: bool) -> dict[str, object]:
    judgement, per_round = facts.judgement, facts.hours_per_round
    more = None if stopped else judgement.more_rounds
    safe = None if stopped else judgement.more_rounds_safe
    return {
        "per_round": per_round,
        "more_rounds": _times(per_round, more),
        "more_rounds_safe": _times(per_round, safe),
        "fewest_rounds": _times(per_round, judgement.fewest_rounds),
    }


def _times(per_round: float | None, rounds: int | None) -> float | None:
    return None if per_round is None or rounds is None else per_round * rounds
