"""The part of the document that says when the rule looks, and how strictly."""

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.statistics.results import Look, LookTaken


def looks(facts: Facts) -> dict[str, object]:
    """The planned rounds, the round of the present look (None: no look), all looks, and those taken so far.

    Rounds are named as the readings number them; `rounds` counts those done at a look.
    """
    this = facts.judgement.this_look
    return {
        "planned_rounds": facts.trial.planned_rounds,
        "this": None if this is None else facts.label(this.round),
        "schedule": [_look(facts, look) for look in facts.judgement.schedule],
        "taken": [_taken(facts, look) for look in facts.judgement.taken],
    }


def _look(facts: Facts, look: Look) -> dict[str, object]:
    return {
        "round": facts.label(look.round),
        "rounds": look.round,
        "spent": number(look.spent),
        "level": number(look.level),
        "critical": number(look.critical),
        "leader_critical": number(look.leader_critical),
        "order": look.order,
    }


def _taken(facts: Facts, look: LookTaken) -> dict[str, object]:
    """What a look said: its leader less the nearest rival, and the trial's outcome by this look alone."""
    return {
        "round": facts.label(look.round),
        "rounds": look.round,
        "first": facts.ids[look.leader],
        "second": facts.ids[look.nearest.element],
        "difference": number(look.nearest.difference),
        "low": number(look.nearest.low),
        "high": number(look.nearest.high),
        "outcome": look.outcome,
    }
