"""The part of the document on a kept trial's past: plans, changes, batches, outcome by the first margin."""

from dataclasses import asdict, replace

from service.analysis.cautions.plan_changed import change_entry, under_first_margin
from service.analysis.facts import Facts
from service.trial.history import History, plan_of
from service.trial.trial import Trial


def in_force(trial: Trial, history: History | None) -> Trial:
    """The trial under the schedule of its first plan: no later change moves a level already fixed."""
    if history is None:
        return trial
    first = history.first_plan
    return replace(trial, planned_rounds=first.planned_rounds, confidence=first.confidence, looks=first.looks)


def history(facts: Facts, stated: Trial) -> dict[str, object] | None:
    """The history part of the document, None for a trial that is not kept; `stated` as it was given."""
    past = facts.history
    if past is None:
        return None
    return {
        "first_plan": asdict(past.first_plan),
        "stated_plan": asdict(plan_of(stated)),
        "changes": [change_entry(change) for change in past.changes],
        "under_first_margin": under_first_margin(facts),
        "batches": [asdict(batch) for batch in past.batches],
    }
