"""What the text of a value means."""

import math

import pytest

from service.errors import BadInput
from service.intake.marks import Marks
from service.intake.values import State, decimal_mark, meaning

MARKS = Marks(nothing_found=("-", "N/A", "0"), not_scanned=("X",))


@pytest.mark.parametrize(
    ("text", "number"),
    [("7", 7), ("07", 7), ("-62.5", -62.5), ("+3", 3), (".5", 0.5), ("5.", 5), ("1e1", 10), ("−62", -62)],
)
def test_numbers(text, number):
    read = meaning(text, Marks(), ".")
    assert (read.state, read.number) == (State.NUMBER, number)


def test_minus_nothing_is_nothing():
    assert math.copysign(1, meaning("-0", Marks(), ".").number) == 1


@pytest.mark.parametrize(
    ("text", "state"),
    [
        ("", State.BLANK),
        ("none", State.NOTHING_FOUND),
        ("No Signal", State.NOTHING_FOUND),
        ("NOT SCANNED", State.NOT_SCANNED),
        ("-", State.NOTHING_FOUND),
        ("n/a", State.NOTHING_FOUND),
        ("0", State.NOTHING_FOUND),
        ("x", State.NOT_SCANNED),
    ],
)
def test_marks(text, state):
    read = meaning(text, MARKS, ".")
    assert read.state == state
    assert math.isnan(read.number)


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("7/10", "share"),
        ("7 / 10", "share"),
        ("2026-05-12", "date"),
        ("12.05.2026", "date"),
        ("10.05.", "date"),
        ("12/05/2026", "date"),
        ("7-Oct", "date"),
        ("10 Jul", "date"),
        ("7. Oktober", "date"),
        ("7-Oct-2026", "date"),
        ("Oct-10", "date"),
        ("Oct 10", "date"),
        ("7-10", "date"),
        ("1.024,5", "one decimal mark"),
        ("1,024.5", "one decimal mark"),
        ("1'024.5", "one decimal mark"),
        ("nan", "no reading"),
        ("-inf", "no reading"),
        ("#N/A", "error cell"),
        ("=A1+1", "formula"),
        ("1e999", "too large"),
        ("7:10", "time of day"),
        ("7,5", "write 7.5"),
    ],
)
def test_what_is_refused_comes_with_its_remedy(text, remedy):
    read = meaning(text, Marks(), ".")
    assert read.state == State.FAULTY
    assert remedy in read.detail


@pytest.mark.parametrize(
    "text",
    [
        "-",
        "n/a",
        "?",
        "weak",
        "marginal",
        "maybe",
        "decoded",
        "march",
        "1_0",
        "٣",
        "0x10",
        "7 5",
        "1.2.x",
        "true",
        "null",
        "NA",
    ],
)
def test_an_unknown_mark_is_answered_with_both_choices(text):
    read = meaning(text, Marks(), ".")
    assert read.state == State.FAULTY
    assert f"nothing_found={text}" in read.detail
    assert f"not_scanned={text}" in read.detail


@pytest.mark.parametrize(
    ("cell", "unit", "remedied"),
    [
        ("48 %", "bars", "state the unit percent for the meter."),
        ("17 dB", "dBuV", "state the unit dB for the meter."),
        ("17 dBm", "dBuV", "say so once in the heading: value (dBm)."),
        ("17 dBmV", "dBuV", "say so once in the heading: value (dBmV)."),
    ],
)
def test_another_unit_is_sent_to_the_heading_only_where_it_can_be_converted(cell, unit, remedied):
    read = meaning(cell, Marks(), ".", unit=unit)
    assert read.state == State.FAULTY
    assert read.detail.endswith(remedied)


@pytest.mark.parametrize(
    ("texts", "separator", "mark"),
    [
        (["7", "8"], ";", "."),
        (["7,5", "8"], ";", ","),
        (["7,5", "8"], "\t", ","),
        (["7,5", "8"], ",", "."),
        (["7.5", "8"], ";", "."),
        (["7,5", "7.5"], ";", ""),
        (["7,5", "12.05.2026"], ";", ","),
        (["−62,5", "−61,5"], ";", ","),
        (["−62,5", "−61.5"], ";", ""),
    ],
)
def test_the_decimal_mark_of_a_file(texts, separator, mark):
    assert decimal_mark(texts, separator=separator) == mark


def test_a_decimal_comma_is_read_where_the_file_has_one():
    assert meaning("-62,5", Marks(), ",").number == -62.5
    assert meaning("−62,5", Marks(), ",").number == -62.5
    assert "decimal points too" in meaning("7,5", Marks(), "").detail


def test_a_mark_means_one_thing():
    with pytest.raises(BadInput) as refusal:
        Marks(nothing_found=("-", "?"), not_scanned=("?", "none"))
    assert [fault.given for fault in refusal.value.faults] == ["?", "none"]


def test_an_empty_mark_is_no_mark():
    assert meaning("", Marks(nothing_found=("", " ")), ".").state == State.BLANK
