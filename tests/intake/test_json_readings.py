"""Readings in JSON."""

import json

import pytest

from service.errors import BadRequest
from service.intake import strict_json
from tests.intake.made_batches import BARS, JSON, batch, caught, cells, faults_of, json_batch, only_fault

GOOD = {"element": "a", "round": 1, "channel": "x", "value": 7}


def faults_with(**fields):
    return faults_of(json_batch, [GOOD, GOOD | {"channel": "y"} | fields])


def test_every_field_is_read():
    more = {"rf_channel": "27", "received": True, "at": "2026-05-12T10:00:00Z", "run": "s", "mounting": "m"}
    trial, readings = json_batch([GOOD | more])
    row = readings.frame.iloc[0]
    assert row[["element", "round", "channel", "value", "run", "mounting"]].tolist() == [
        "a", 1, "x", 7.0, "s", "m",
    ]  # fmt: skip
    assert trial.channels[0].rf_channel == "27"
    assert readings.read_as["media_type"] == JSON
    assert (readings.read_as["rows"], readings.read_as["shape"]) == (1, "long")


def test_null_and_not_received_are_nothing_found():
    rows = [GOOD | {"value": None}, GOOD | {"channel": "y", "received": False, "value": None}]
    rows.append({"element": "a", "round": 1, "channel": "z", "received": False})
    _, readings = json_batch([*rows, GOOD | {"channel": "q", "received": None}])
    assert [row[3] for row in cells(readings)] == [7.0, None, None, None]


def test_a_value_left_out_says_nothing():
    rows = [GOOD, {"element": "a", "round": 1, "channel": "y"}]
    fault = only_fault(json_batch, rows)
    assert fault.pointer == "#/readings/1/value"
    assert "null where nothing was found" in fault.detail
    assert only_fault(json_batch, [rows[1] | {"received": True}, rows[0]]).pointer.startswith("#/readings/0/")


@pytest.mark.parametrize("value", [True, "7", "none", [7], {}])
def test_a_value_is_a_number(value):
    (fault,) = faults_with(value=value)
    assert fault.pointer == "#/readings/1/value"


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("element", 7), ("element", None), ("element", ""), ("element", " a"), ("element", "a\tb"),
        ("channel", 27.1), ("rf_channel", 27), ("run", True), ("mounting", 1), ("at", 3),
        ("at", "2026-05-12"), ("round", "1"), ("round", 1.5), ("round", True),
        ("round", 0), ("round", 99_999), ("round", 0.5), ("round", 1e300),
        ("received", "no"), ("received", 1), ("received", False),
    ],
)  # fmt: skip
def test_a_field_of_another_kind_is_placed(name, value):
    assert f"#/readings/1/{name}" in [fault.pointer for fault in faults_with(**{name: value})]


def test_a_bad_value_is_one_fault_whatever_is_said_of_reception():
    assert [fault.pointer for fault in faults_with(value="7", received=True)] == ["#/readings/1/value"]


def test_values_are_told_back():
    assert [fault.given for fault in faults_with(value=11)] == [11.0]
    assert [fault.given for fault in faults_with(element=[7])] == ["a list"]


def test_a_whole_number_may_be_written_with_a_point():
    assert cells(json_batch([GOOD | {"round": 2.0}])[1]) == [("a", 2, "x", 7.0)]


def test_a_key_without_end_does_not_come_back_whole():
    (fault,) = faults_with(**{"k" * 10_000: 3})
    assert len(fault.pointer) < 120
    fault = only_fault(json_batch, [GOOD], **{"k" * 10_000: 3})
    assert len(fault.pointer) < 120


def test_unknown_keys_are_named():
    (fault,) = faults_with(signal=3)
    assert fault.pointer == "#/readings/1/signal"
    assert "element, round, channel, value" in fault.detail


@pytest.mark.parametrize("row", [None, 3, "a", [GOOD]])
def test_a_reading_is_an_object(row):
    fault = only_fault(json_batch, [GOOD, row])
    assert fault.pointer == "#/readings/1"


def test_places_count_from_the_list_also_behind_entries_that_are_none():
    first, second = faults_of(json_batch, [3, GOOD, GOOD | {"channel": "y", "value": 11}])
    assert (first.pointer, second.pointer) == ("#/readings/0", "#/readings/2/value")


def test_a_cell_given_twice_is_refused():
    fault = only_fault(json_batch, [GOOD, GOOD | {"channel": "y"}, GOOD])
    assert (fault.pointer, fault.given) == ("#/readings/2/channel", "x")
    assert "row 0" in fault.detail


@pytest.mark.parametrize("rows", [[], None, {"a": 1}, "x"])
def test_there_is_a_list_with_readings_in_it(rows):
    assert only_fault(json_batch, rows).pointer in ("#/readings", "#")


@pytest.mark.parametrize("body", ["[]", "3", "null", '"trial"'])
def test_the_body_is_an_object_of_trial_and_readings(body):
    assert only_fault(batch, body, JSON, trial=None).pointer == "#"


def test_other_keys_of_the_body_are_refused():
    assert only_fault(json_batch, [GOOD], note="x").pointer == "#/note"


def test_without_a_trial_the_readings_are_checked_all_the_same():
    body = json.dumps({"readings": [GOOD, GOOD | {"channel": 7}]})
    assert [fault.pointer for fault in faults_of(batch, body, JSON, trial=None)] == [
        "#/trial",
        "#/readings/1/channel",
    ]


def test_trial_and_readings_are_told_together():
    trial = BARS | {"reference": "q", "margin": -1}
    faults = faults_of(json_batch, [GOOD | {"value": 11}], trial=trial)
    assert {fault.pointer for fault in faults} == {
        "#/trial/margin", "#/trial/reference", "#/readings/0/value",
    }  # fmt: skip


def test_a_hundred_faults_are_listed_and_all_counted():
    refusal = caught(json_batch, [{"element": 1, "channel": 2, "value": "x"}] * 90 + [None] * 500)
    assert (len(refusal.faults), refusal.count) == (100, 770)
    assert refusal.faults[0].pointer.startswith("#/readings/0/")


@pytest.mark.parametrize("number", [10**400, 1e308, -(10**19)])
def test_numbers_beyond_all_measure_are_refused_not_dropped(number, monkeypatch):
    monkeypatch.setattr(strict_json, "SMALL_BYTES", 0)
    assert [fault.pointer for fault in faults_with(value=number)] == ["#/readings/1/value"]


def test_repeated_keys_and_nan_are_no_json():
    for body in ('{"trial": {}, "readings": [{"value": NaN}]}', '{"readings": [], "readings": []}'):
        with pytest.raises(BadRequest):
            batch(body, JSON, trial=None)
