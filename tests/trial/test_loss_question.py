"""The question about conductor loss: what is understood, and every fault with its place."""

import copy

import pytest

from service.errors import BadInput
from service.trial.loss_question import MOST_FREQUENCIES, loss_question

WHOLE = {
    "first": {"material": "copper", "diameter_mm": 2, "length_mm": 600},
    "second": {
        "id": "fence",
        "label": "Fence wire",
        "material": "steel",
        "gauge": {"table": "swg", "number": 13},
    },
    "region": "europe",
    "rf_channels": ["27", "05"],
    "antenna": {"kind": "loop", "length_mm": 610},
}


def changed(**changes):
    document = copy.deepcopy(WHOLE) | changes
    return {name: value for name, value in document.items() if value is not None}


def faults(**changes):
    with pytest.raises(BadInput) as refused:
        loss_question(changed(**changes))
    return {fault.pointer: fault.detail for fault in refused.value.faults}


def test_a_whole_question_is_understood():
    question = loss_question(changed())
    assert question.names == ("first", "Fence wire")
    assert [conductor.length_mm for conductor in question.conductors] == [600, 610]
    assert question.frequencies == (("27", 522.0), ("5", 177.5))
    assert (question.kind, question.load_ohm) == ("loop", 300.0)


def test_frequencies_may_stand_for_rf_channels():
    question = loss_question(changed(rf_channels=None, region=None, frequencies_mhz=[54, 470.5], load_ohm=75))
    assert question.frequencies == ((None, 54.0), (None, 470.5))
    assert question.load_ohm == 75


@pytest.mark.parametrize("document", [None, [], "loop", 3])
def test_what_is_no_object_is_refused_with_the_fields(document):
    with pytest.raises(BadInput) as refused:
        loss_question(document)
    assert "antenna" in refused.value.faults[0].detail


@pytest.mark.parametrize(
    ("changes", "pointer", "words"),
    [
        ({"first": None}, "#/first", "required"),
        ({"second": 3}, "#/second", "object"),
        ({"antenna": None}, "#/antenna", "loop, half-wave dipole"),
        ({"antenna": 3}, "#/antenna", "object"),
        ({"antenna": {"kind": "lope"}}, "#/antenna/kind", "Did you mean loop"),
        ({"antenna": {"kind": "loop", "width": 3}}, "#/antenna/width", "No field"),
        ({"region": "mars"}, "#/region", "north_america, europe, australia, japan"),
        ({"region": None}, "#/region", "required"),
        ({"rf_channels": ["27.1"]}, "#/rf_channels", "displayed number is not an RF channel number"),
        ({"rf_channels": []}, "#/rf_channels", "at least one"),
        ({"rf_channels": [27]}, "#/rf_channels", "text in quotes"),
        ({"rf_channels": None}, "#/rf_channels", "either"),
        ({"frequencies_mhz": [500]}, "#/rf_channels", "either"),
        ({"rf_channels": None, "frequencies_mhz": [0]}, "#/frequencies_mhz", "from 1 to 10000"),
        ({"rf_channels": None, "frequencies_mhz": [True]}, "#/frequencies_mhz", "numbers"),
        ({"rf_channels": None, "frequencies_mhz": [500] * 201}, "#/frequencies_mhz", "1 to 200"),
        ({"rf_channels": [str(n) for n in range(201)]}, "#/rf_channels", f"at most {MOST_FREQUENCIES}"),
        ({"load_ohm": 0}, "#/load_ohm", "above 0"),
        ({"surprise": 1}, "#/surprise", "No field"),
        ({"first": {"material": "gold-ish", "diameter_mm": 2}}, "#/first/material", "Known are silver"),
        ({"first": {"material": "gold", "diameter_mm": -2}}, "#/first/diameter_mm", "above 0"),
        ({"first": {"material": "gold", "diameter": "2"}}, "#/first/diameter", "with its unit"),
        ({"first": {"material": "gold", "diameter": 2}}, "#/first/diameter", "text in quotes"),
        ({"first": {"material": "gold", "diameter": "0 mm"}}, "#/first/diameter", "above 0 up to 1000 mm"),
        ({"first": {"material": "gold", "diameter": "4 ft"}}, "#/first/diameter", "this is 1219.2 mm"),
        ({"first": {"material": "gold", "diameter_mm": "1/8 in"}}, "#/first/diameter_mm", '"1/8 in"'),
        (
            {"first": {"material": "gold", "diameter_mm": 2, "diameter": "2 mm"}},
            "#/first/diameter",
            "not both",
        ),
        ({"antenna": {"kind": "loop", "length": "27"}}, "#/antenna/length", "2 ft 3 in"),
        (
            {"first": {"material": "steel", "coating": "astm a641 class 2", "diameter_mm": 2}},
            "#/first/coating",
            "astm a641 class 3",
        ),
        ({"first": {"material": "gold", "diameter_mm": 2, "colour": "x"}}, "#/first/colour", "No field"),
    ],
)
def test_a_fault_is_told_with_its_place_and_remedy(changes, pointer, words):
    found = faults(**changes)
    assert words in found[pointer]
    assert set(found) - {"#/second/length_mm", "#/first/length_mm"} == {
        pointer
    }  # the antenna gave the length of the second


def test_lengths_may_be_written_with_their_unit():
    question = loss_question(
        changed(
            first={"material": "copper", "diameter": "1/8 in", "length": "2 ft 3 in"},
            antenna={"kind": "loop", "length": "27 in"},
        )
    )
    assert [(one.diameter_mm, one.length_mm) for one in question.conductors] == [
        (3.175, 685.8), (pytest.approx(2.3368), 685.8)
    ]  # fmt: skip


def test_every_fault_is_told_at_once():
    found = faults(first={"material": "mud"}, antenna={"kind": "x"}, rf_channels=["2"])
    assert {"#/first/material", "#/first/diameter_mm", "#/antenna/kind", "#/rf_channels"} <= set(found)
