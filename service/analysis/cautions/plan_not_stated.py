"""`plan-not-stated`: more rounds than the default plan, and no plan that was fixed beforehand."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def plan_not_stated(facts: Facts) -> Caution | None:
    """Raised beyond the default plan where the trial stated none: the error promised belongs to a plan."""
    planned = facts.trial.planned_rounds
    if facts.trial.planned_rounds_stated or facts.rounds_done <= planned:
        return None
    return Caution(
        "plan-not-stated", "warning", {"rounds_done": facts.rounds_done, "planned_rounds": planned}
    )
