"""`plan-changed`: the plan was changed after readings had come."""

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.stops import ruling
from service.analysis.facts import Facts
from service.trial.history import PlanChange


def plan_changed(facts: Facts) -> Caution | None:
    """Raised where a kept trial records a change since its first readings; each with date and reason.

    Looks, confidence and planned rounds stay those of the first plan; a changed margin is told beside it.
    """
    if facts.history is None or not facts.history.changes:
        return None
    evidence = {
        "changes": [change_entry(change) for change in facts.history.changes],
        "under_first_margin": under_first_margin(facts),
    }
    return Caution("plan-changed", "warning", evidence)


def change_entry(change: PlanChange) -> dict[str, object]:
    """One change with its date and reason, and the fields that changed, before and after."""
    return {
        "number": change.number,
        "at": change.at,
        "reason": change.reason,
        "before": dict(change.before),
        "after": dict(change.after),
    }


def under_first_margin(facts: Facts) -> dict[str, object] | None:
    """What the trial says under the margin of its first plan; None where that is the margin still."""
    first = facts.first_margin
    return None if first is None else {"margin": first.trial.margin, **ruling(first).document()}
