"""From the trial document to a trial: defaults, and every fault with its place and remedy."""

import json
import math

import pytest

from service.settings import Limits
from service.trial.trial import Cost, Gauge, KnownRepeatability, Meter, Strike
from service.trial.trial_document import checked_trial, trial_from_document
from tests.trial.refused_documents import bars, fault_at, faults_of

WHOLE = {
    "title": "Quayside whip trial",
    "meter": {"unit": "bars", "lowest": 0, "highest": 10, "resolution": 1},
    "margin": 0.5,
    "confidence": 0.9,
    "planned_rounds": 8,
    "looks": "planned end",
    "reference": "brass-3",
    "region": "europe",
    "seed": 7,
    "compares": "height",
    "elements": [
        {"id": "brass-3", "label": "3 mm brass rod", "material": "brass", "form": "rod", "diameter_mm": 3.0,
         "length_mm": 690, "cost": {"amount": 4.2, "currency": "EUR"}},
        {"id": "bronze-13", "gauge": {"table": "swg", "number": 13}, "condition": "new", "coating": "none",
         "minutes_to_make": 5, "cost_per_metre": {"amount": 1, "currency": "EUR"}},
        {"id": "brass-3b", "twin_of": "brass-3"},
        {"id": "brass-3-pad", "pad_of": "brass-3", "pad_db": 3.0},
    ],
    "channels": [{"id": "Harbour One", "rf_channel": "27"}, {"id": "Harbour Two"}],
    "struck": [{"element": "bronze-13", "round": 3, "reason": "mast turned in a gust"}],
    "known_repeatability": {"sd": 0.31, "degrees_of_freedom": 9, "rf_channels": ["27"], "from": "remounts"},
    "minutes_per_run": 12,
    "taken_by": "",
    "site": "indoor, upper floor",
}  # fmt: skip


def test_a_whole_document_is_read():
    trial = trial_from_document(WHOLE)
    assert trial.meter == Meter("bars", 0.0, 10.0, 1.0, resolution_stated=True)
    assert (trial.margin, trial.confidence, trial.seed) == (0.5, 0.9, 7)
    assert (trial.planned_rounds, trial.planned_rounds_stated, trial.looks) == (8, True, "planned end")
    assert (trial.reference, trial.region, trial.compares) == ("brass-3", "europe", "height")
    assert trial.elements[0].cost == Cost(4.2, "EUR")
    assert trial.elements[1].gauge == Gauge("swg", 13)
    assert [element.role for element in trial.elements] == ["competes", "competes", "twin", "pad"]
    assert [channel.rf_channel for channel in trial.channels] == ["27", None]
    assert trial.struck == (Strike("bronze-13", 3, "mast turned in a gust"),)
    assert trial.known_repeatability == KnownRepeatability(0.31, 9, ("27",), "remounts")
    assert (trial.minutes_per_run, trial.taken_by, trial.site) == (12.0, "", "indoor, upper floor")


def test_the_document_of_a_trial_is_json_and_reads_as_the_same_document():
    document = trial_from_document(WHOLE).document()
    again = trial_from_document(json.loads(json.dumps(document, allow_nan=False)))
    assert again.document() == document


def test_the_unit_alone_is_enough():
    trial = trial_from_document({"meter": {"unit": "percent"}})
    assert trial.meter == Meter("percent", 0.0, 100.0, 1.0)
    assert trial.margin == 3.0
    assert (trial.confidence, trial.seed, trial.looks, trial.compares) == (0.95, 1, "every round", "element")
    assert (trial.planned_rounds, trial.planned_rounds_stated) == (6, False)
    assert (trial.title, trial.region, trial.reference) == (None, None, None)


def test_null_is_the_same_as_left_out():
    document = trial_from_document({"meter": {"unit": "bars"}}).document()
    nothing = {name: None for name, value in document.items() if value is None}
    assert trial_from_document({"meter": {"unit": "bars", "lowest": None}} | nothing).document() == document


def test_the_usual_step_is_told_from_a_stated_one():
    assert not trial_from_document({"meter": {"unit": "bars"}}).meter.resolution_stated
    assert trial_from_document({"meter": {"unit": "dB", "resolution": 0.1}}).meter.resolution_stated
    assert trial_from_document({"meter": {"unit": "dB"}}).meter.resolution is None


def test_the_margin_follows_the_scale_stated():
    assert trial_from_document({"meter": {"unit": "bars", "highest": 20}}).margin == 1.0
    assert trial_from_document({"meter": {"unit": "bars"}}).margin == 0.25


@pytest.mark.parametrize("unit", [None, "%", "dbm", 7, ["bars"]])
def test_the_unit_is_one_of_six(unit):
    fault = fault_at("#/trial/meter/unit", {"meter": {"unit": unit}})
    assert "bars, percent, dB, dBuV, dBmV, dBm" in fault.detail


def test_a_unit_nearly_right_is_guessed_at():
    assert "Did you mean dBm" in fault_at("#/trial/meter/unit", {"meter": {"unit": "dbm"}}).detail


@pytest.mark.parametrize("document", [{}, {"meter": None}, {"meter": "bars"}])
def test_the_meter_is_required(document):
    fault_at("#/trial/meter", document)


@pytest.mark.parametrize("document", [None, [], "bars", 3])
def test_the_trial_is_an_object(document):
    trial, faults = checked_trial(document)
    assert trial is None
    assert [fault.pointer for fault in faults] == ["#/trial"]


def test_a_percentage_of_confidence_is_answered_with_the_share():
    assert "0.95" in fault_at("#/trial/confidence", bars(confidence=95)).detail


@pytest.mark.parametrize("value", [0.79, 0.995, 1, 0, -1, 995, 10**400, "0.95", True, math.nan, math.inf])
def test_confidence_lies_from_080_to_099(value):
    detail = fault_at("#/trial/confidence", bars(confidence=value)).detail
    assert detail.startswith("Give a share from 0.80 to 0.99")


@pytest.mark.parametrize("value", [0, -0.5, 11, "1", False, math.nan, -math.inf, 10**400])
def test_the_margin_is_above_nothing_and_within_the_scale(value):
    fault_at("#/trial/margin", bars(margin=value))


@pytest.mark.parametrize("value", [0, 401, 2.5, "6", True])
def test_the_planned_rounds_are_a_whole_number(value):
    fault_at("#/trial/planned_rounds", bars(planned_rounds=value))


def test_a_whole_number_may_be_written_with_a_point():
    assert trial_from_document(bars(planned_rounds=4.0)).planned_rounds == 4


@pytest.mark.parametrize("value", [-1, 2**53, 1.5])
def test_the_seed_keeps_its_digits_in_every_reader(value):
    fault_at("#/trial/seed", bars(seed=value))


@pytest.mark.parametrize(
    ("name", "value"), [("looks", "never"), ("compares", "metal"), ("region", "atlantis"), ("looks", 1)]
)
def test_words_come_from_a_list_which_the_fault_gives(name, value):
    assert "Give one of" in fault_at(f"#/trial/{name}", bars(**{name: value})).detail


def test_unknown_fields_are_named_with_the_nearest_that_are_known():
    faults = faults_of({"meter": {"unit": "bars", "higest": 10}, "confidance": 0.9, "a/b~c": 1})
    assert "Did you mean highest" in faults["#/trial/meter/higest"].detail
    assert "Did you mean confidence" in faults["#/trial/confidance"].detail
    assert "Allowed: title" in faults["#/trial/a~1b~0c"].detail


@pytest.mark.parametrize(
    ("meter", "place"),
    [
        ({"unit": "bars", "lowest": 5, "highest": 5}, "highest"),
        ({"unit": "percent", "highest": 120}, "highest"),
        ({"unit": "dBm", "lowest": -200}, "lowest"),
        ({"unit": "bars", "highest": 10, "resolution": 0}, "resolution"),
        ({"unit": "bars", "highest": 10, "resolution": 11}, "resolution"),
        ({"unit": "bars", "needed": 3}, "needed"),
        ({"unit": "dBuV", "needed": 300}, "needed"),
        ({"unit": "dBuV", "impedance_ohm": 0}, "impedance_ohm"),
    ],
)
def test_a_meter_that_cannot_be(meter, place):
    fault_at(f"#/trial/meter/{place}", {"meter": meter})


def test_the_level_needed_is_read_in_decibels():
    assert trial_from_document({"meter": {"unit": "dBuV", "needed": 45}}).meter.needed == 45.0


@pytest.mark.parametrize(
    ("entry", "place"),
    [
        ({}, "id"),
        ({"id": 7}, "id"),
        ({"id": ""}, "id"),
        ({"id": " a"}, "id"),
        ({"id": "a\nb"}, "id"),
        ({"id": "\ud800"}, "id"),
        ({"id": "a" * 201}, "id"),
        ({"id": "a", "form": "plank"}, "form"),
        ({"id": "a", "diameter_mm": 0}, "diameter_mm"),
        ({"id": "a", "twin_of": "b", "pad_of": "b", "pad_db": 3}, "pad_of"),
        ({"id": "a", "pad_of": "b"}, "pad_db"),
        ({"id": "a", "pad_db": 3}, "pad_db"),
        ({"id": "a", "gauge": {"table": "brown"}}, "gauge/number"),
        ({"id": "a", "gauge": {"table": "paper", "number": 3}}, "gauge/table"),
        ({"id": "a", "gauge": 13}, "gauge"),
        ({"id": "a", "cost": {"amount": -1, "currency": "EUR"}}, "cost/amount"),
        ({"id": "a", "cost": {"amount": 1, "currency": "euro"}}, "cost/currency"),
        ({"id": "a", "cost": {"amount": 1, "currency": "EUR"},
          "cost_per_metre": {"amount": 1, "currency": "EUR"}}, "cost_per_metre"),
    ],
)  # fmt: skip
def test_an_element_that_cannot_be(entry, place):
    assert f"#/trial/elements/0/{place}" in faults_of(bars(elements=[entry]))


def test_a_bare_gauge_number_is_kept_without_its_table():
    trial = trial_from_document(bars(elements=[{"id": "a", "gauge": {"number": 13}}]))
    assert trial.elements[0].gauge == Gauge(None, 13)


def test_costs_are_in_one_currency():
    costs = [{"id": name, "cost": {"amount": 1, "currency": name.upper()}} for name in ("eur", "gbp", "eux")]
    assert list(faults_of(bars(elements=costs))) == [
        "#/trial/elements/1/cost/currency",
        "#/trial/elements/2/cost/currency",
    ]


@pytest.mark.parametrize("name", ["elements", "channels"])
def test_an_id_stands_once(name):
    fault_at(f"#/trial/{name}/1/id", bars(**{name: [{"id": "a"}, {"id": "a"}]}))


def test_a_run_is_struck_once_and_with_a_reason():
    strike = {"element": "a", "round": 1, "reason": "wind"}
    fault_at("#/trial/struck/1/round", bars(struck=[strike, strike]))
    fault_at("#/trial/struck/0/reason", bars(struck=[{"element": "a", "round": 1}]))
    fault_at("#/trial/struck/0/round", bars(struck=[strike | {"round": 0}]))


@pytest.mark.parametrize("names", [[], ["27", "27"], [27], "27", None])
def test_known_repeatability_names_its_rf_channels(names):
    known = {"sd": 0.3, "degrees_of_freedom": 9, "rf_channels": names, "from": "x"}
    fault_at("#/trial/known_repeatability/rf_channels", bars(known_repeatability=known))


def test_lists_are_lists_of_objects():
    faults = faults_of(bars(elements={"id": "a"}, channels=["x"]))
    assert set(faults) == {"#/trial/elements", "#/trial/channels/0"}


def test_all_faults_come_at_once():
    faults = faults_of({"meter": {"unit": "x"}, "margin": -1, "seed": "1", "elements": [{"id": ""}], "y": 1})
    assert set(faults) == {
        "#/trial/meter/unit", "#/trial/margin", "#/trial/seed", "#/trial/elements/0/id", "#/trial/y",
    }  # fmt: skip


def test_limits_bound_lists_and_texts():
    limits = Limits(elements=1, channels=1, text_characters=5)
    document = bars(elements=[{"id": "a"}, {"id": "b"}], channels=[{"id": "a"}, {"id": "b"}], title="123456")
    assert set(faults_of(document, limits=limits)) == {
        "#/trial/elements", "#/trial/channels", "#/trial/title",
    }  # fmt: skip


def test_very_many_unknown_fields_are_one_fault():
    fault = fault_at("#/trial", bars(**{f"x{number}": 1 for number in range(101)}))
    assert "101 fields" in fault.detail
    assert len(faults_of(bars(**{f"x{number}": 1 for number in range(100)}))) == 100


def test_entries_that_are_no_objects_do_not_shift_the_places_of_others():
    entries = [3, {"id": "a"}, {"id": "a"}, {"id": "b", "form": "plank"}]
    assert set(faults_of(bars(elements=entries, channels=entries[:3]))) == {
        "#/trial/elements/0", "#/trial/elements/2/id", "#/trial/elements/3/form", "#/trial/channels/0",
        "#/trial/channels/2/id",
    }  # fmt: skip


def test_strikes_with_faults_repeat_nothing():
    faults = faults_of(bars(struck=[{"reason": "w"}, {"reason": "w"}, 3, 4]))
    assert set(faults) == {
        "#/trial/struck/0/element", "#/trial/struck/0/round", "#/trial/struck/1/element",
        "#/trial/struck/1/round", "#/trial/struck/2", "#/trial/struck/3",
    }  # fmt: skip
