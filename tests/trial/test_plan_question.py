"""The question for a plan: what is taken, every fault with its place."""

import pytest

from service.settings import Limits
from service.trial.plan_question import USUAL_CHANCE, PlanQuestion, checked_question

LIMITS = Limits()


def test_what_is_given_is_taken_and_the_rest_has_defaults():
    question, faults = checked_question({"minutes_available": 180, "minutes_per_run": 6}, limits=LIMITS)
    assert faults == []
    assert question == PlanQuestion(180.0, 6.0, 0.0, USUAL_CHANCE, None, None)
    given = {
        "minutes_available": 90, "minutes_per_run": 5, "minutes_per_mounting": 4, "chance": 0.9,
        "worthwhile_difference": 0.7, "seed": 3, "trial": {}, "continues": [],
    }  # fmt: skip
    question, faults = checked_question(given, limits=LIMITS)
    assert faults == []
    assert question == PlanQuestion(90.0, 5.0, 4.0, 0.9, 0.7, 3)


@pytest.mark.parametrize(
    ("given", "place", "told"),
    [
        ({}, "#/minutes_available", "required"),
        ({"minutes_available": 0}, "#/minutes_available", "above 0"),
        ({"minutes_available": 9, "minutes_per_run": "6"}, "#/minutes_per_run", "without quotes"),
        ({"minutes_available": 9, "minutes_per_mounting": -1}, "#/minutes_per_mounting", "from 0"),
        ({"minutes_available": 9, "chance": 0.3}, "#/chance", "from 0.5"),
        ({"minutes_available": 9, "worthwhile_difference": 0}, "#/worthwhile_difference", "above 0"),
        ({"minutes_available": 9, "seed": 1.5}, "#/seed", "whole number"),
        ({"minutes_available": 9, "minutes": 3}, "#/minutes", "minutes_per_run"),
    ],
)
def test_each_fault_has_its_place(given, place, told):
    _, faults = checked_question(given, limits=LIMITS)
    assert [fault.pointer for fault in faults] == [place]
    assert told in faults[0].detail


def test_what_is_no_object_is_refused():
    _, (fault,) = checked_question([1], limits=LIMITS)
    assert fault.pointer == "#"
    assert "minutes_available" in fault.detail
