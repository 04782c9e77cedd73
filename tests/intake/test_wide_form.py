"""Tables as people keep them in a spreadsheet."""

import pytest

from service.intake.marks import Marks
from tests.intake.made_batches import BARS, batch, cells, faults_of, only_fault


def test_a_column_is_a_run_and_a_bare_element_is_round_1():
    _, readings = batch("channel,rf_channel,brass@2,bronze\nOne,27,7,8\nTwo,31,5.5,6")
    assert cells(readings) == [
        ("brass", 2, "One", 7.0),
        ("brass", 2, "Two", 5.5),
        ("bronze", 1, "One", 8.0),
        ("bronze", 1, "Two", 6.0),
    ]
    assert set(readings.frame["rf_channel"]) == {"27", "31"}
    assert set(readings.frame["row"]) == {2, 3}


def test_how_the_table_was_read_is_told():
    _, readings = batch("channel;a@1;a@2\nx;7,5;none\ny;;3\nz;;\n;;", marks=Marks(nothing_found=("-",)))
    told = readings.read_as
    assert told["columns"] == [
        {"heading": "channel", "read_as": "channel", "code": "column", "evidence": {"column": "channel"}},
        {"heading": "a@1", "read_as": "a, round 1", "code": "run", "evidence": {"element": "a", "round": 1}},
        {"heading": "a@2", "read_as": "a, round 2", "code": "run", "evidence": {"element": "a", "round": 2}},
    ]
    assert (told["shape"], told["delimiter"], told["decimal_mark"]) == ("wide", ";", ",")
    assert (told["rows"], told["blanks_read_as_lost"], told["not_scanned"]) == (3, 1, 2)
    assert told["marks"] == {"none": 1}
    assert [(skipped["row"], skipped["code"]) for skipped in told["skipped"]] == [
        (4, "blank-row"), (5, "empty-row"),
    ]  # fmt: skip


def test_a_blank_cell_is_nothing_found():
    _, readings = batch("channel,a,b\nx,7,\ny,,6")
    assert cells(readings) == [
        ("a", 1, "x", 7.0),
        ("a", 1, "y", None),
        ("b", 1, "x", None),
        ("b", 1, "y", 6.0),
    ]


def test_blank_rows_and_columns_were_not_scanned():
    _, readings = batch("channel,a,b,c\nx,7,,\ny,,,\nz,5,,none")
    assert cells(readings) == [
        ("a", 1, "x", 7.0),
        ("a", 1, "z", 5.0),
        ("c", 1, "x", None),
        ("c", 1, "z", None),
    ]
    assert readings.read_as["blanks_read_as_lost"] == 1
    assert len(readings.read_as["skipped"]) == 2
    column = next(skipped for skipped in readings.read_as["skipped"] if skipped["code"] == "blank-column")
    assert column["evidence"] == {"column": "b"}
    assert "column b" in column["why"]


def test_marks_in_cells_are_understood():
    _, readings = batch("channel,a,b\nx,no signal,not scanned\ny,-,7", marks=Marks(nothing_found=("-",)))
    assert cells(readings) == [("a", 1, "x", None), ("a", 1, "y", None), ("b", 1, "y", 7.0)]


def test_a_fault_of_a_value_names_row_and_heading():
    first, second = faults_of(batch, "channel,a@1,b@2\nx,7,7/10\ny,11,6")
    assert (first.row, first.column, first.given) == (2, "b@2", "7/10")
    assert (second.row, second.column, second.given) == (3, "a@1", 11.0)


def test_a_channel_has_one_row():
    fault = only_fault(batch, "channel,a,b\nx,7,7\ny,6,6\nx,5,5")
    assert (fault.row, fault.column, fault.given) == (4, "channel", "x")
    assert "row 2" in fault.detail


@pytest.mark.parametrize("name", ["Total", "sum", "Average", "mean"])
def test_a_row_of_sums_is_no_channel(name):
    fault = only_fault(batch, f"channel,a,b\nx,3,4\ny,5,6\n{name},3,4")
    assert (fault.row, fault.column, fault.given) == (4, "channel", name)
    assert "take it out" in fault.detail


@pytest.mark.parametrize(
    ("heading", "column", "part"),
    [
        ("channel,a,a", "a", "twice"),
        ("channel,a,a@1", "a@1", "same run as the column a"),
        ("channel,a@01,b", "a@01", "whole number"),
        ("channel,a@zero,b", "a@zero", "whole number"),
        ("channel,a@0,b", "a@0", "whole number"),
        ("channel,@2,b", "@2", "empty"),
        ("channel,round,b", "round", "long form"),
        ("channel,at,b", "at", "long form"),
        ("channel,Mount,b", "Mount", "Mount@1 for an element of that name"),
        ("channel,notes,b", "notes", "take the column out"),
        ("channel,b round 2,b", "b round 2", "write b@2"),
        ("channel,b,Run 3", "Run 3", "brass-3@3"),
    ],
)
def test_headings_that_name_no_run(heading, column, part):
    faults = faults_of(batch, f"{heading}\nx,7,7")
    assert (faults[0].row, faults[0].column) == (1, column)
    assert part in faults[0].detail


def test_headings_with_a_fault_repeat_no_run():
    faults = faults_of(batch, "channel,b@zero,b@1,@1,@ 1\nx,7,7,7,7")
    assert [fault.column for fault in faults] == ["b@zero", "@1", "@ 1"]


def test_rows_keep_their_lines_below_quoted_cells_of_two_lines():
    body = 'channel,a,b\n"x",7,"?"\n"y;z,q",7,7\n\n"two\nlines",7,7\nv,?,7'
    assert [(fault.row, fault.column) for fault in faults_of(batch, body)] == [
        (2, "b"),
        (5, "channel"),
        (7, "a"),
    ]


def test_a_table_of_channels_alone_is_answered_with_the_heading_wanted():
    assert "element@round" in only_fault(batch, "channel,rf_channel\nx,27").detail


def test_the_last_at_sign_parts_element_and_round():
    _, readings = batch("channel,rod@home@3,' @x@2\nx,7,8")
    assert {row[:2] for row in cells(readings)} == {("rod@home", 3), ("' @x", 2)}


def test_the_apostrophe_that_guards_a_spreadsheet_is_taken_off():
    _, readings = batch("channel,'=rod@2\n'-x,7")
    assert cells(readings) == [("=rod", 2, "-x", 7.0)]


def test_a_channel_needs_its_name():
    fault = only_fault(batch, "channel,a,b\n,7,7\ny,6,6")
    assert (fault.row, fault.column) == (2, "channel")


def test_one_channel_names_every_element_of_the_trial():
    trial = BARS | {"elements": [{"id": "z"}], "reference": "b"}
    whole, _ = batch("channel,b,a\nx,7,7", trial=trial)
    assert [element.id for element in whole.elements] == ["z", "a", "b"]
