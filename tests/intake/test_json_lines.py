"""NDJSON: a reading a line, faults by line."""

import pytest

from service.errors import BadRequest, TooLarge
from service.settings import Limits
from tests.intake.made_batches import batch, cells, faults_of, only_fault

NDJSON = "application/x-ndjson"
ONE = '{"element": "a", "round": 1, "channel": "x", "value": 7}'
TWO = '{"element": "a", "round": 1, "channel": "y", "value": null}'


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_line_is_a_reading(ending, mark):
    _, readings = batch(mark + ending.join([ONE, "", TWO, ""]), NDJSON)
    assert cells(readings) == [("a", 1, "x", 7.0), ("a", 1, "y", None)]
    assert list(readings.frame["row"]) == [1, 3]
    told = readings.read_as
    assert (told["media_type"], told["shape"], told["rows"], told["header_row"]) == (NDJSON, "long", 2, None)


def test_faults_are_told_by_line():
    lines = [
        ONE, "", "{", "[1]", '{"element": "a", "round": 1, "channel": "z", "value": NaN}',
        '{"element": "a", "round": 1, "channel": "v", "value": 7, "note": "x"}',
        '{"element": "a", "round": 0, "channel": "w", "value": 11}',
        '{"element": "a", "round": 1, "channel": "q", "value": 1e999}',
        '{"element": "a", "element": "b", "round": 1, "channel": "r", "value": 1}', ONE,
    ]  # fmt: skip
    found = faults_of(batch, "\n".join(lines), NDJSON)
    assert [(fault.row, fault.column) for fault in found] == [
        (3, None), (4, None), (5, None), (6, "note"), (7, "round"), (7, "value"), (8, None), (9, None),
        (10, "channel"),
    ]  # fmt: skip
    assert all(fault.pointer is None for fault in found)
    assert "This line is not JSON" in found[0].detail
    assert "NaN" in found[2].detail
    assert "row 1" in found[-1].detail


@pytest.mark.parametrize(
    "body",
    [f"{ONE}, {TWO}", f"{ONE}\n{ONE[:20]}\n{ONE[20:]}", f"{ONE}\n[{ONE}", '{"a": [1\n2]}\n' + f"{ONE},{TWO}"],
)
def test_a_line_is_one_object_and_no_more(body):
    assert faults_of(batch, body, NDJSON)


def test_a_fault_of_the_trial_keeps_its_pointer():
    fault = only_fault(batch, ONE, NDJSON, trial={"meter": {"unit": "bars"}, "margin": -1})
    assert fault.pointer == "#/trial/margin"


@pytest.mark.parametrize("body", ["", "\n\n", "\ufeff"])
def test_an_empty_body_is_refused_with_an_example(body):
    with pytest.raises(BadRequest, match=r'\{"element": "brass-3"'):
        batch(body, NDJSON)


def test_lines_are_counted_before_they_are_read():
    with pytest.raises(TooLarge, match="at most 1 are taken"):
        batch("{\n" * 3, NDJSON, limits=Limits(readings=1))


def test_bytes_that_are_no_text_are_told_by_line():
    assert only_fault(batch, ONE.encode() + b"\n\xff\xfe", NDJSON).row == 2
