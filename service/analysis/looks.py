"""The part of the document that says when the rule looks, and how strictly."""

from service.analysis.facts import Facts, number
from service.statistics.results import Look


def looks(facts: Facts) -> dict[str, object]:
    """The planned rounds, the number of rounds of the present look (None: no look), the schedule of all."""
    this = facts.judgement.this_look
    return {
        "planned_rounds": facts.trial.planned_rounds,
        "this": None if this is None else this.round,
        "schedule": [_look(look) for look in facts.judgement.schedule],
    }


def _look(look: Look) -> dict[str, object]:
    return {
        "round": look.round,
        "spent": number(look.spent),
        "level": number(look.level),
        "critical": number(look.critical),
        "leader_critical": number(look.leader_critical),
        "order": look.order,
    }
