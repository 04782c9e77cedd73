"""A cell is given once: scanned, or not scanned, but not both."""

import pytest

from tests.intake.made_batches import batch, cells, faults_of, only_fault

HEADING = "element,round,channel,value\n"


@pytest.mark.parametrize(
    "lines", ["a,1,x,not scanned\na,1,x,7", "a,1,x,7\na,1,x,not scanned", "a,1,x,not scanned\n" * 2]
)
def test_a_cell_once_not_scanned_and_once_something_else_is_refused(lines):
    fault = only_fault(batch, HEADING + "a,1,y,3\n" + lines)
    assert (fault.row, fault.column, fault.given) == (4, "channel", "x")
    assert "in row 3" in fault.detail
    assert "Take one of the two out" in fault.detail


@pytest.mark.parametrize(
    ("values", "rows"),
    [
        (("not scanned", "7", "8"), [3, 4]), (("7", "not scanned", "8"), [3, 4]),
        (("7", "8", "not scanned"), [3, 4]), (("7", "?", "not scanned"), [3, 3, 4]),
    ],
)  # fmt: skip
def test_each_repeat_is_told_once(values, rows):
    found = faults_of(batch, HEADING + "".join(f"a,1,x,{value}\n" for value in values))
    assert [fault.row for fault in found] == rows


def test_what_tells_scans_apart_tells_these_apart():
    heading = "element,round,channel,value,run\n"
    _, readings = batch(heading + "a,1,x,not scanned,1\na,1,x,7,2\na,2,x,not scanned,1\na,2,y,5,1")
    assert cells(readings) == [("a", 1, "x", 7.0), ("a", 2, "y", 5.0)]
    batch("element,channel,value\na,x,not scanned\na,y,7\nb,x,7\na,x,7")
    only_fault(batch, "element,channel,value,mounting\na,x,not scanned,m\na,x,7,m")


def test_rows_without_a_name_are_no_repeats():
    found = faults_of(batch, HEADING + ",1,x,not scanned\n,1,x,7\na,1,x,7")
    assert [(fault.row, fault.column) for fault in found] == [(2, "element"), (3, "element")]
