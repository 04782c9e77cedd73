"""`unplanned-looks`: one look was planned, at the end of the plan, and the trial went on beyond it."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts

PROMISE_FACTOR = 1.2  # all of alpha at the planned end, and a fifth of it for all looks beyond


def unplanned_looks(facts: Facts) -> Caution | None:
    """Raised beyond the plan of a trial with one planned look; `promise` is the error rate that holds."""
    planned, done = facts.trial.planned_rounds, facts.rounds_done
    if facts.trial.looks != "planned end" or done <= planned:
        return None
    promise = PROMISE_FACTOR * (1.0 - facts.trial.confidence)
    evidence = {"planned_rounds": planned, "rounds_done": done, "promise": promise}
    return Caution("unplanned-looks", "warning", evidence)
