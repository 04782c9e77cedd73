"""Cautions of a plan as a reader is shown them: what to do, and no field of the document."""

import re

import pytest

from reports.plans import render_plan
from reports.wording import plan, plan_cautions, plan_notes
from reports.wording.speech import speech_of
from tests.reports.sample_plans import made

FIELDS = re.compile(r"[a-z]+(?:_[a-z]+)+|[a-z]+\.[a-z]+|under channels")
"""How a document's fields stand within a sentence."""
QUESTIONS = [
    {"channel": channel, "why": why}
    for channel, why in (("27.1", "not stated"), ("31", "as displayed"), ("A", "not in the region"))
]
SHOWN = {
    "fewer-than-planned": (
        {"rounds": 4, "planned_rounds": 6},
        {"planned_rounds"},
        "the time is enough for 4. Before the first run, plan as many rounds as will be done",
    ),
    "no-control": (
        {"lacking": ["twin", "pad"]},
        {"twin_of", "pad_of", "pad_db"},
        "a spare copy of one element, which must come out the same",
    ),
    "displayed-numbers": ({"channels": QUESTIONS}, {"rf_channel"}, "On which RF channel is 27.1?"),
    "channels-not-named": ({}, {"under channels", "rf_channel"}, "list them with the plan"),
    "noise-not-known": ({}, {"known_repeatability"}, "a plan that goes on with them"),
    "gauge-table-unknown": (
        {"elements": [{"element": "tube-3", "number": 13, "meanings": []}]},
        {"gauge.table"},
        "which table its gauge counts",
    ),
}
"""Those whose message names fields: evidence, the fields, and words that are shown instead."""
AS_THEY_STAND = {
    "too-few-rounds": {"rounds": 2, "elements": 6},
    "worthwhile-out-of-reach": {"worthwhile_difference": 0.5, "detectable_difference": 0.82},
    "margin-below-repeatability": {"margin": 0.5, "sd": 0.31, "smallest_useful_margin": 0.62},
    "long-rounds": {"hours": 4.0},
    "plan-done": {"planned_rounds": 6},
    "rounds-with-gaps": {"missing": [{"element": "brass-3", "round": 3}]},
    "no-reference": {},
    "geometry-differs": {
        "pairs": [{"first": "brass-3", "second": "tube-3", "diameter": 0.1, "length": None}]
    },
    "several-things-differ": {"pairs": [["brass-3", "tube-3"]]},
}


@pytest.fixture(scope="module")
def document():
    return made()


def caution(document, code, evidence):
    message = plan_cautions.message(speech_of(document), code, evidence)
    return {"code": code, "severity": "note", "evidence": evidence, "message": message}


@pytest.mark.parametrize("code", SHOWN)
def test_a_reader_is_told_what_to_do_and_no_field_of_the_document(document, code):
    evidence, fields, words = SHOWN[code]
    given = caution(document, code, evidence)
    assert set(FIELDS.findall(given["message"])) == fields
    told = plan_notes.shown(speech_of(document), given)
    assert words in told
    assert FIELDS.findall(told) == []
    for form in ("text", "html"):
        shown = render_plan({**document, "cautions": [given]}, form).decode().replace("&#39;", "'")
        assert told in shown
        assert given["message"] not in shown


@pytest.mark.parametrize("code", AS_THEY_STAND)
def test_what_names_no_field_is_shown_as_it_stands(document, code):
    given = caution(document, code, AS_THEY_STAND[code])
    assert FIELDS.findall(given["message"]) == []
    assert plan_notes.shown(speech_of(document), given) == given["message"]


def test_every_caution_of_a_plan_is_tried():
    assert set(plan_cautions._OWN) <= SHOWN.keys() | AS_THEY_STAND.keys()


def test_the_short_way_is_told_without_fields_of_the_document(document):
    said = plan.remount_study(speech_of(document))
    assert "With the spread of these known beforehand it settles only large differences" in said
    assert FIELDS.findall(said) == []
