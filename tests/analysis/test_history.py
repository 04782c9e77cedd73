"""A kept trial's past: the first plan's schedule, a changed margin, changes and batches in the document."""

import dataclasses

import pytest

from service.analysis import analyse
from service.trial.history import BatchAccount, History, Plan, PlanChange, plan_of
from tests.analysis.made_trials import MadeTrial, made_trial, noisy_scores
from tests.analysis.read_document import codes, evidence

SCORES = noisy_scores({"a": 20.0, "b": 19.0, "c": 15.0}, rounds=6, sd=0.1)
BATCHES = (
    BatchAccount(1, "2026-05-12T09:00:00Z", "readings", 72),
    BatchAccount(2, "2026-05-12T18:00:00Z", "correction", 4, reason="misread"),
)


def first(made: MadeTrial, **changes) -> Plan:
    """The trial's plan as it stands but for these fields."""
    return dataclasses.replace(plan_of(made.trial), **changes)


def changed(**fields) -> PlanChange:
    """One change of the plan, from before to after."""
    before = {name: pair[0] for name, pair in fields.items()}
    after = {name: pair[1] for name, pair in fields.items()}
    return PlanChange(1, "2026-05-13T08:00:00Z", "as told", before, after)


def test_without_a_history_there_is_none(analysed):
    document = analysed(made_trial(SCORES))
    assert document["history"] is None
    assert "plan-changed" not in codes(document)


def test_a_plan_that_was_never_changed_is_told_and_raises_nothing(analysed):
    made = made_trial(SCORES)
    document = analysed(made, history=History(first(made), (), BATCHES))
    assert "plan-changed" not in codes(document)
    past = document["history"]
    assert past["first_plan"] == past["stated_plan"]
    assert past["changes"] == []
    assert past["under_first_margin"] is None
    assert past["batches"][1] == {
        "number": 2,
        "at": "2026-05-12T18:00:00Z",
        "kind": "correction",
        "rows": 4,
        "reason": "misread",
        "withdraws": None,
        "withdrawn_by": None,
    }
    alone = analysed(made)
    kept = {"history", "provenance"}
    assert {key: part for key, part in document.items() if key not in kept} == {
        key: part for key, part in alone.items() if key not in kept
    }
    assert document["provenance"]["report_id"] != alone["provenance"]["report_id"]


def test_the_schedule_of_the_first_plan_stays_in_force(analysed):
    later = made_trial(SCORES, planned_rounds=12, confidence=0.8, looks="planned end")
    plan = Plan(
        margin=later.trial.margin, confidence=0.95, planned_rounds=6, looks="every round", reference=None
    )
    change = changed(planned_rounds=(6, 12), confidence=(0.95, 0.8), looks=("every round", "planned end"))
    document = analysed(later, history=History(plan, (change,)))
    never_changed = analysed(made_trial(SCORES, planned_rounds=6, confidence=0.95))
    for part in ("looks", "verdict", "pairs"):
        assert document[part] == never_changed[part]
    told = document["trial"]
    assert (told["planned_rounds"], told["confidence"], told["looks"]) == (6, 0.95, "every round")
    assert document["history"]["stated_plan"]["planned_rounds"] == 12
    assert evidence(document, "plan-changed") == {
        "changes": [
            {
                "number": 1,
                "at": "2026-05-13T08:00:00Z",
                "reason": "as told",
                "before": {"planned_rounds": 6, "confidence": 0.95, "looks": "every round"},
                "after": {"planned_rounds": 12, "confidence": 0.8, "looks": "planned end"},
            }
        ],
        "under_first_margin": None,
    }


def test_a_changed_margin_is_reported_beside_the_first(analysed):
    wide = made_trial(SCORES, margin=3.0)
    document = analysed(wide, history=History(first(wide, margin=0.5), (changed(margin=(0.5, 3.0)),)))
    assert document["verdict"]["outcome"] == "within noise"
    beside = {"margin": 0.5, "outcome": "clear winner", "winner": "a"}
    assert document["history"]["under_first_margin"] == beside
    assert evidence(document, "plan-changed")["under_first_margin"] == beside
    assert document["trial"]["margin"] == 3.0


def test_the_first_margin_is_not_used_where_a_caution_stops_the_trial(analysed):
    elements = [{"id": "c", "twin_of": "b"}]
    wide = made_trial(SCORES, margin=3.0, elements=elements)
    history = History(first(wide, margin=0.5), (changed(margin=(0.5, 3.0)),))
    document = analysed(wide, history=history)
    assert "twin-differs" in codes(document)
    assert document["history"]["under_first_margin"]["outcome"] == "needs more runs"


@pytest.mark.parametrize("field", ["reference", "struck"])
def test_a_change_of_anything_that_moves_a_verdict_is_told(analysed, field):
    made = made_trial(SCORES)
    document = analysed(made, history=History(first(made), (changed(**{field: (None, "a")}),)))
    assert evidence(document, "plan-changed")["changes"][0]["after"] == {field: "a"}


def test_the_history_is_an_argument_and_no_hidden_state(store):
    made = made_trial(SCORES)
    history = History(first(made), (), BATCHES)
    one, again = (analyse(made.trial, made.readings, store=store, history=history) for _ in range(2))
    assert one == again
