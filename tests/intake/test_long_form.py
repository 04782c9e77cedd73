"""Tables with a row for each reading."""

import pandas as pd
import pytest

from service.intake.marks import Marks
from tests.intake.made_batches import TSV, batch, caught, cells, faults_of, only_fault

HEADING = "element,round,channel,value"


def table(*lines, heading=HEADING):
    return "\n".join((heading, *lines))


def test_every_column_is_read():
    heading = "element,round,channel,value,rf_channel,received,at,run,mounting"
    body = table("brass,2,One,7.5,27,true,2026-05-12T10:00:00+02:00,s1,m1", heading=heading)
    trial, readings = batch(body)
    row = readings.frame.iloc[0].to_dict()
    assert row == {
        "element": "brass", "round": 2, "channel": "One", "value": 7.5, "received": True, "rf_channel": "27",
        "at": pd.Timestamp("2026-05-12T08:00:00Z"), "run": "s1", "mounting": "m1", "row": 2,
    }  # fmt: skip
    assert trial.channels[0].rf_channel == "27"


def test_how_the_table_was_read_is_told():
    _, readings = batch("\ufeff" + table("a,1,x,7", "", ",,,", "a,1,y,", "a,1,z,not scanned", "b,1,x,none"))
    assert readings.read_as == {
        "media_type": "text/csv",
        "shape": "long",
        "encoding": "utf-8",
        "byte_order_mark": True,
        "delimiter": ",",
        "decimal_mark": ".",
        "header_row": 1,
        "sheet": None,
        "columns": [
            {"heading": name, "read_as": name, "code": "column", "evidence": {"column": name}}
            for name in HEADING.split(",")
        ],
        "rows": 4,
        "elements": 2,
        "channels": 3,
        "blanks_read_as_lost": 0,
        "not_scanned": 1,
        "marks": {"none": 1, "not scanned": 1},
        "skipped": [{"row": 4, "why": "the row is empty", "code": "empty-row", "evidence": {}}],
        "notes": [],
    }


def test_names_are_text_and_never_missing_values():
    _, readings = batch(table("01,1,NA,7", "1,1,null,7", "None,1,nan,7", "NaN,1,1e5,7"))
    assert [row[:3:2] for row in cells(readings)] == [
        ("01", "NA"),
        ("1", "null"),
        ("NaN", "1e5"),
        ("None", "nan"),
    ]


def test_an_empty_value_and_a_mark_are_scanned_and_nothing_found():
    body = table("a,1,x,", "a,1,y,none", "a,1,z,-", "a,1,q,x")
    _, readings = batch(body, marks=Marks(nothing_found=("-",), not_scanned=("X",)))
    assert cells(readings) == [("a", 1, "x", None), ("a", 1, "y", None), ("a", 1, "z", None)]
    assert not readings.frame["received"].any()
    assert readings.read_as["marks"] == {"-": 1, "none": 1, "x": 1}


@pytest.mark.parametrize("said", ["false", "False", "no", "0"])
def test_said_not_to_be_received(said):
    _, readings = batch(table(f"a,1,x,,{said}", "a,1,y,3,", heading=HEADING + ",received"))
    assert cells(readings) == [("a", 1, "x", None), ("a", 1, "y", 3.0)]
    assert readings.read_as["blanks_read_as_lost"] == 0


@pytest.mark.parametrize(
    ("value", "said", "part"),
    [
        ("3", "false", "take one of the two away"),
        ("", "true", "without a value"),
        ("none", "yes", "without a value"),
        ("not scanned", "false", "leave this empty"),
        ("3", "perhaps", "Give true or false"),
    ],
)
def test_reception_and_value_agree(value, said, part):
    fault = only_fault(batch, table(f"a,1,x,{value},{said}", "a,1,y,3,", heading=HEADING + ",received"))
    assert (fault.row, fault.column, fault.given) == (2, "received", said)
    assert part in fault.detail


def test_values_outside_the_scale_are_refused():
    first, second = faults_of(batch, table("a,1,x,11", "a,1,y,10", "a,1,z,-0.5", "a,1,q,0"))
    assert [(fault.row, fault.column, fault.given) for fault in (first, second)] == [
        (2, "value", 11.0),
        (4, "value", -0.5),
    ]
    assert "0 to 10 bars" in first.detail


@pytest.mark.parametrize(
    ("unit", "good", "bad"),
    [
        ("dBm", ("-130", "30"), ("-131", "31")),
        ("dBmV", ("-80", "80"), ("-81", "81")),
        ("dBuV", ("-20", "130"), ("-21", "131")),
        ("dB", ("-60", "100"), ("-61", "1e999")),
        ("percent", ("0", "100"), ("-1", "101")),
    ],
)
def test_values_beyond_belief_are_refused(unit, good, bad):
    trial = {"meter": {"unit": unit}}
    batch(table(*(f"a,1,{value},{value}" for value in good)), trial=trial)
    faults = faults_of(batch, table(*(f"a,1,{value},{value}" for value in bad)), trial=trial)
    assert [fault.row for fault in faults] == [2, 3]


def test_a_decimal_comma_is_read_in_files_without_separating_commas():
    body = "element;round;channel;value\na;1;x;7,5\na;1;y;8"
    for separator, media_type in ((";", "text/csv"), ("\t", "text/csv"), ("\t", TSV)):
        _, readings = batch(body.replace(";", separator), media_type)
        assert cells(readings) == [("a", 1, "x", 7.5), ("a", 1, "y", 8.0)]
        assert (readings.read_as["decimal_mark"], readings.read_as["delimiter"]) == (",", separator)


def test_a_decimal_comma_in_a_comma_file_is_refused_by_name():
    quoted, bare = faults_of(batch, table('a,1,x,"7,5"', "a,1,y,7,5"))
    assert (quoted.row, quoted.column, quoted.given) == (2, "value", "7,5")
    assert "save the file with semicolons" in quoted.detail
    assert bare.row == 3
    assert "decimal comma" in bare.detail


def test_two_decimal_marks_in_one_file_are_refused():
    fault = only_fault(batch, "element;round;channel;value\na;1;x;7,5\na;1;y;7.5")
    assert (fault.row, fault.given) == (2, "7,5")
    assert "one decimal mark" in fault.detail


@pytest.mark.parametrize("number", ["0", "-1", "1.5", "one", "10000", "٣", "+1"])
def test_rounds_are_whole_numbers_from_1(number):
    fault = only_fault(batch, table(f"a,{number},x,7", "a,1,y,7"))
    assert (fault.row, fault.column, fault.given) == (2, "round", number)


def test_times_have_a_zone():
    fault = only_fault(batch, table("a,1,x,7,2026-05-12T10:00:00", heading=HEADING + ",at"))
    assert (fault.column, fault.given) == ("at", "2026-05-12T10:00:00")
    assert "zone" in fault.detail


@pytest.mark.parametrize(("line", "column"), [(",1,x,7", "element"), ("a,1,,7", "channel")])
def test_element_and_channel_are_required(line, column):
    fault = only_fault(batch, table(line, "a,1,y,7"))
    assert (fault.row, fault.column) == (2, column)


def test_names_are_plain_and_not_too_long():
    long = "x" * 201
    faults = faults_of(batch, table(f"a,1,{long},7", 'a,1,"x\ny",7'))
    assert [(fault.row, fault.column) for fault in faults] == [(2, "channel"), (3, "channel")]
    assert "201 characters" in faults[0].detail


def test_the_apostrophe_that_guards_a_spreadsheet_is_taken_off():
    _, readings = batch(table("'=rod,1,'-x,7", "'quoted',1,'+,7"))
    assert [row[:3:2] for row in cells(readings)] == [("'quoted'", "+"), ("=rod", "-x")]


@pytest.mark.parametrize(
    "lines",
    [
        ("element,round,channel,value", "a,1,x,7", "b,1,x,7", "a,1,x,8"),
        ("element,channel,value,at", *["a,x,7,2026-05-12T10:00:00Z"] * 1, "b,y,7,2026-05-12T10:05:00Z",
         "a,x,7,2026-05-12T12:00:00+02:00"),
        ("element,channel,value,mounting", "a,x,7,m1", "b,x,7,m1", "a,x,8,m1"),
        ("element,channel,value", "b,x,7", "a,x,7", "a,x,8"),
    ],
)  # fmt: skip
def test_a_cell_given_twice_is_refused_with_both_rows(lines):
    fault = only_fault(batch, "\n".join(lines))
    assert (fault.row, fault.column, fault.given) == (4, "channel", "x")
    assert f"row {3 if lines[1][0] == 'b' else 2}" in fault.detail


def test_a_cell_comes_again_where_something_tells_the_scans_apart():
    batch("element,round,channel,value,run\na,1,x,7,1\na,1,x,8,2")
    batch("element,round,channel,value,mounting\na,1,x,7,1\na,1,x,8,2")
    batch("element,channel,value\na,x,7\nb,x,7\na,x,8")


@pytest.mark.parametrize("column", ["round", "mounting", "at"])
def test_a_column_that_makes_rounds_is_filled_or_empty(column):
    value = {"round": "1", "mounting": "1", "at": "2026-05-12T10:00:00Z"}[column]
    fault = only_fault(batch, f"element,channel,value,{column}\na,x,7,{value}\na,y,7,")
    assert (fault.row, fault.column) == (3, column)


def test_a_bad_round_is_not_told_again_as_a_missing_one():
    assert only_fault(batch, table("a,one,x,7", "a,1,y,7")).column == "round"


def test_one_channel_stands_on_one_rf_channel():
    fault = only_fault(
        batch, table("a,1,x,7,27", "b,1,x,7,27", "c,1,x,7,31", heading=HEADING + ",rf_channel")
    )
    assert (fault.row, fault.column, fault.given) == (4, "rf_channel", "31")


@pytest.mark.parametrize(
    ("heading", "column", "part"),
    [
        ("element,round,channel,value,strength", "strength", "not known"),
        ("Elemnt,round,channel,value", "Elemnt", "Did you mean element"),
        ("element,round,channel,value,value", "value", "twice"),
    ],
)
def test_headings_that_are_not_understood_are_named(heading, column, part):
    faults = faults_of(batch, heading + "\na,1,x,7")
    named = next(fault for fault in faults if fault.column == column)
    assert (named.row, named.given) == (1, column)
    assert part in named.detail


def test_missing_headings_are_answered_with_those_wanted():
    fault = only_fault(batch, "element,round,value\na,1,7")
    assert "no column channel" in fault.detail
    assert "Wanted are element, channel, value" in fault.detail


def test_a_heading_that_is_not_understood_at_all_is_answered_with_ones_own_names():
    fault = only_fault(batch, "Station;Brass;Bronze@2\nOne;7;8")
    assert "channel;Brass@1;Bronze@2 " in fault.detail
    assert fault.row == 1


def test_a_table_without_readings_is_refused():
    assert "no reading at all" in only_fault(batch, HEADING).detail
    assert "no reading at all" in only_fault(batch, table("a,1,x,not scanned")).detail


def test_the_faults_of_trial_and_readings_come_together_in_order_of_rows():
    trial = {"meter": {"unit": "bars", "highest": 10}, "margin": 11, "reference": "q"}
    lines = ("a,1,x,12", "a,zero,x,7/10", "a,1,x", "a,1,y,7")
    faults = faults_of(batch, table(*lines), trial=trial)
    places = [(fault.pointer, fault.row, fault.column) for fault in faults]
    assert set(places[:2]) == {("#/trial/margin", None, None), ("#/trial/reference", None, None)}
    assert places[2] == (None, 2, "value")
    assert set(places[3:5]) == {(None, 3, "value"), (None, 3, "round")}
    assert places[5:] == [(None, 4, None)]


def test_without_a_unit_the_readings_are_checked_as_far_as_they_can_be():
    faults = faults_of(batch, table("a,1,x,12", "a,1,y,7/10"), trial={"meter": {}})
    assert [(fault.pointer, fault.row) for fault in faults] == [("#/trial/meter/unit", None), (None, 3)]


def test_a_hundred_faults_are_listed_the_first_and_all_are_counted():
    refusal = caught(batch, table(*(f"a,1,c{place},bad" for place in range(250)), "a,0,x,7"))
    assert [fault.row for fault in refusal.faults] == list(range(2, 102))
    assert refusal.count == 251


def test_many_ragged_rows_are_counted_too():
    refusal = caught(batch, table(*("a,1,x" for _ in range(5000))))
    assert [fault.row for fault in refusal.faults] == list(range(2, 102))
    assert refusal.count == 5000
