"""The question for a history: read whole, or every fault of it told."""

import pytest

from service.errors import BadInput
from service.settings import Limits
from service.trial.history_question import MOST_TRIALS, HistoryQuestion, checked_history_question

GOOD = {"element": "whip", "reference": "brass", "trials": ["a", "b", "c"]}


def test_it_is_read_with_what_it_leaves_open():
    assert checked_history_question(GOOD, limits=Limits()) == HistoryQuestion(
        "whip", "brass", ("a", "b", "c")
    )
    whole = checked_history_question(GOOD | {"margin": 1, "confidence": 0.9}, limits=Limits())
    assert (whole.margin, whole.confidence) == (1.0, 0.9)
    most = {"trials": [f"t{place}" for place in range(MOST_TRIALS)]}
    assert len(checked_history_question(GOOD | most, limits=Limits()).trials) == MOST_TRIALS


@pytest.mark.parametrize(
    ("given", "places"),
    [
        ([], ["#"]),
        ({}, ["#/element", "#/reference", "#/trials"]),
        (GOOD | {"trials": ["a", "b"]}, ["#/trials"]),
        (GOOD | {"trials": ["a", "b", "a"]}, ["#/trials"]),
        (GOOD | {"trials": [f"t{place}" for place in range(MOST_TRIALS + 1)]}, ["#/trials"]),
        (
            GOOD | {"element": "x" * 201, "margin": 0, "confidence": 0.5},
            ["#/element", "#/margin", "#/confidence"],
        ),
        (GOOD | {"from": "2024"}, ["#/from"]),
    ],
)
def test_every_fault_is_told_at_its_place(given, places):
    with pytest.raises(BadInput) as refused:
        checked_history_question(given, limits=Limits())
    assert [fault.pointer for fault in refused.value.faults] == places
