"""All faults of a trial and of its readings come in one answer, in order, and none that only follows from
another: once those listed are mended the batch passes."""

import csv
import io
import json
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.settings import Limits
from tests.intake.made_batches import BARS, CSV, JSON, batch, caught, faults_of, only_fault

FIELDS = ("element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting")
NEVER, OTHER = None, object()
KNOWN = BARS | {"channels": [{"id": channel, "rf_channel": f"2{channel}"} for channel in "123456789"]}
NOW = "2026-05-12T10:00:00Z"


def good_rows():
    """Two elements, two rounds and nine channels, everything said of every reading."""
    return [
        {
            "element": element, "round": number, "channel": channel, "value": 5, "rf_channel": f"2{channel}",
            "received": True, "at": NOW, "run": "1", "mounting": f"m{number}",
        }
        for number, element, channel in product((1, 2), "ab", "123456789")
    ]  # fmt: skip


FAULTS_OF_A_ROW = {
    "beyond the scale": ({"value": 11}, "value"),
    "no round": ({"round": 0}, "round"),
    "no element": ({"element": ""}, "element"),
    "no channel": ({"channel": ""}, "channel"),
    "contradiction": ({"received": False}, "received"),
    "another RF channel": ({"rf_channel": OTHER}, "rf_channel"),
    "no time": ({"at": "noon"}, "at"),
    "a run of two lines": ({"run": "1\n2"}, "run"),
    "a mounting of two lines": ({"mounting": "1\n2"}, "mounting"),
    "no row": (NEVER, None),
}
FAULTS_OF_A_TRIAL = {
    "margin": (-1, "#/trial/margin"),
    "confidence": (95, "#/trial/confidence"),
    "reference": ("q", "#/trial/reference"),
    "struck": ([{"element": "q", "round": 1, "reason": "wind"}], "#/trial/struck/0/element"),
    "elements": (
        [{"id": "a"}, 3, {"id": "t", "twin_of": "q"}],
        "#/trial/elements/1 #/trial/elements/2/twin_of",
    ),
    "site": (7, "#/trial/site"),
    "note": ("x", "#/trial/note"),
    "meter": ({"unit": "bar", "highest": 10}, "#/trial/meter/unit"),
}  # fmt: skip


@st.composite
def spoilt(draw):
    """Some faults of a trial, and some of rows: (row, which)."""
    kinds = draw(st.lists(st.sampled_from(sorted(FAULTS_OF_A_ROW)), max_size=8))
    places = draw(st.permutations(range(1, 36)))
    trial = draw(st.lists(st.sampled_from(sorted(FAULTS_OF_A_TRIAL)), unique=True, max_size=4))
    return trial, dict(zip(sorted(places[: len(kinds)]), kinds, strict=True)), draw(st.booleans())


def spoil(kinds, again):
    """The rows with their faults, and the places where these are to be told: (row from 0, column)."""
    rows, told, contradicted = good_rows(), set(), set()
    for place, kind in kinds.items():
        change, column = FAULTS_OF_A_ROW[kind]
        rows[place] = NEVER if change is NEVER else rows[place] | change
        if kind == "another RF channel":
            rows[place]["rf_channel"] = f"9{place}"
            if rows[place]["channel"] in contradicted:  # told once for each channel, with their number
                continue
            contradicted.add(rows[place]["channel"])
        told.add((place, column))
    if again:
        rows.append(good_rows()[0])
        told.add((36, "channel"))
    return rows, told


def as_table(rows):
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(FIELDS)
    writer.writerows([["a", "1"] if row is NEVER else [row[name] for name in FIELDS] for row in rows])
    return out.getvalue()


def lines_of(rows):
    """The line in which each row begins, a run or mounting of two lines taking two."""
    heights = [1 if row is NEVER else 1 + sum(str(row[name]).count("\n") for name in FIELDS) for row in rows]
    return [2 + sum(heights[:place]) for place in range(len(rows))]


@settings(max_examples=150, deadline=None)
@given(spoilt())
def test_every_fault_is_told_at_once_and_none_that_follows_from_another(faulty):
    trial_faults, kinds, again = faulty
    rows, told = spoil(kinds, again)
    trial = KNOWN | {name: FAULTS_OF_A_TRIAL[name][0] for name in trial_faults}
    if "meter" in trial_faults:  # without a unit nothing is known of the scale
        told -= {(place, "value") for place, kind in kinds.items() if kind == "beyond the scale"}
    expected = {place for name in trial_faults for place in FAULTS_OF_A_TRIAL[name][1].split()}
    if not (told or expected):
        batch(as_table(rows), trial=trial)
        batch(json.dumps({"trial": trial, "readings": rows}), JSON, trial=None)
        return
    lines = lines_of(rows)
    found = faults_of(batch, as_table(rows), CSV, trial=trial)
    assert {fault.pointer for fault in found if fault.pointer} == expected
    assert {(fault.row, fault.column) for fault in found if fault.row} == {
        (lines[place], column) for place, column in told
    }
    assert len(found) == len(told) + len(expected)
    assert [fault.row or 0 for fault in found] == sorted(fault.row or 0 for fault in found)
    found = faults_of(batch, json.dumps({"trial": trial, "readings": rows}), JSON, trial=None)
    assert {fault.pointer for fault in found} == expected | {
        f"#/readings/{place}/{column}" if column else f"#/readings/{place}" for place, column in told
    }
    assert len(found) == len(told) + len(expected)


def test_faults_of_readings_stand_in_order_of_their_rows_whatever_found_them():
    rows = good_rows()
    rows[20] |= {"value": 11}
    rows[12] |= {"rf_channel": "99"}
    rows[30] |= {"round": 0}
    rows[4] = 3
    rows.append(good_rows()[0])
    found = faults_of(batch, json.dumps({"trial": BARS, "readings": rows, "x": 1}), JSON, trial=None)
    assert [fault.pointer for fault in found] == [
        "#/x", "#/readings/4", "#/readings/12/rf_channel", "#/readings/20/value", "#/readings/30/round",
        "#/readings/36/channel",
    ]  # fmt: skip


def test_contradictions_beyond_a_hundred_are_counted():
    rows = [
        {"element": e, "round": 1, "channel": f"c{place}", "value": 5, "rf_channel": e}
        for e in "ab"
        for place in range(250)
    ]
    refusal = caught(batch, json.dumps({"trial": BARS, "readings": rows}), JSON, trial=None)
    assert (len(refusal.faults), refusal.count) == (100, 250)


@pytest.mark.parametrize("trial", [None, {"reference": "q"}, {"meter": {"unit": "bars"}, "margin": "1"}])
@pytest.mark.parametrize("readings", [None, {"a": 1}, "x"])
def test_readings_that_are_no_list_are_told_beside_the_faults_of_the_trial(trial, readings):
    places = [
        fault.pointer
        for fault in faults_of(batch, json.dumps({"trial": trial, "readings": readings}), JSON, trial=None)
    ]
    assert places[-1] == "#/readings"
    assert len(places) == 2
    assert places[0] in ("#/trial", "#/trial/meter", "#/trial/margin")


def test_a_struck_run_is_not_looked_for_where_rounds_are_in_doubt():
    strike = {"struck": [{"element": "a", "round": 2, "reason": "wind"}], "reference": "q"}
    for last in ("a,two,x,7", "a,,x,7", "a,2,x,7,5"):
        body = f"element,round,channel,value\na,1,x,7\n{last}"
        found = faults_of(batch, body, trial=BARS | strike)
        assert [(fault.pointer, fault.row) for fault in found] == [
            ("#/trial/reference", None),
            (found[1].pointer, 3),
        ]
    assert only_fault(
        batch, "element,round,channel,value\na,1,x,7", trial=BARS | {"struck": strike["struck"]}
    )


def test_what_a_faulty_strike_names_is_not_told_twice():
    struck = [{"element": "", "round": 1, "reason": "w"}, {"element": "a", "round": 0, "reason": "w"}, 3]
    found = faults_of(batch, "element,round,channel,value\na,1,x,7", trial=BARS | {"struck": struck})
    assert sorted(str(fault.pointer) for fault in found) == [
        "#/trial/struck/0/element", "#/trial/struck/1/round", "#/trial/struck/2",
    ]  # fmt: skip


def test_without_any_readable_row_names_are_not_missed():
    body = "element,round,channel,value\na,1,x,7,5\nb,1,x,6,5"
    assert [fault.row for fault in faults_of(batch, body, trial=BARS | {"reference": "a"})] == [2, 3]


def test_values_are_checked_below_an_unknown_heading():
    body = "element,rund,channel,value,note\na,1,x,7/10,\na,2,x,11,\na,2,x,7,"
    found = faults_of(batch, body, trial=BARS | {"struck": [{"element": "a", "round": 2, "reason": "w"}]})
    assert [(fault.row, fault.column) for fault in found] == [
        (1, "rund"), (1, "note"), (2, "value"), (3, "value"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "heading", ["element,channel", "element,channel,value,value", "element,channel,Valu"]
)
def test_below_a_heading_that_leaves_the_values_open_nothing_is_checked(heading):
    row = ",".join(["?"] * len(heading.split(",")))
    assert {fault.row for fault in faults_of(batch, f"{heading}\n{row}")} == {1}


def test_values_are_checked_below_a_wide_heading_with_a_fault():
    body = "channel,a@zero,a@1,b@2,@3,b@2\nx,11,7,?,12,5\nx,1,1,1,1,1"
    found = faults_of(batch, body, trial=BARS | {"reference": "b"})
    assert [(fault.row, fault.column) for fault in found] == [
        (1, "b@2"), (1, "a@zero"), (1, "@3"), (2, "b@2"), (2, "a@zero"), (2, "@3"), (3, "channel"),
    ]  # fmt: skip


def test_a_repeated_cell_is_told_beside_faults_elsewhere():
    body = "element,round,channel,value\na,1,,7\na,x,x,7\na,1,x,77\na,1,x,7\n,1,x,7"
    found = faults_of(batch, body)
    assert [(fault.row, fault.column) for fault in found] == [
        (2, "channel"), (3, "round"), (4, "value"), (5, "channel"), (6, "element"),
    ]  # fmt: skip


def test_where_rows_make_the_rounds_a_missing_row_leaves_repetition_open():
    body = "element,channel,value\na,x,7\n{}\na,x,7"
    for lost in ("b,x,7,5", ",x,7", "b,,7"):
        assert [fault.row for fault in faults_of(batch, body.format(lost))] == [3]
    assert [fault.row for fault in faults_of(batch, body.format("a,y,77"))] == [3, 4]


def test_too_many_rounds_are_told_beside_faults_elsewhere():
    body = (
        "element,round,channel,value\n" + "".join(f"a,{number},x,5\n" for number in range(1, 6)) + "a,x,x,5"
    )
    first, second = faults_of(batch, body, limits=Limits(rounds=4))
    assert "5 rounds" in first.detail
    assert (second.row, second.column) == (7, "round")
