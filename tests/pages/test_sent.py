"""Readings as forms send them: told apart by name or look, taken along by pages, refused with a remedy."""

import hashlib
import io
import json

import pytest
from flask import Flask, request

from service.errors import BadInput, BadRequest, TooLarge, UnsupportedMedia
from service.intake.media_types import CSV, JSON, NDJSON, TSV, XLSX
from service.pages.sent import MOST_CARRIED, MOST_SHOWN, Sent, sent_readings

MOST = 10_000
TABLE = "element,round,channel,value\na,1,Harbour,5\n"


def taken(**fields) -> Sent:
    """What a form with these fields sends; a file is a pair of content and name."""
    data = {
        name: (io.BytesIO(value[0]), value[1]) if isinstance(value, tuple) else value
        for name, value in fields.items()
    }
    with Flask("form").test_request_context(method="POST", data=data):
        return sent_readings(request, most_bytes=MOST)


@pytest.mark.parametrize(
    ("name", "media_type"),
    [
        ("a.csv", CSV),
        ("A.CSV", CSV),
        ("a.txt", CSV),
        ("a.tsv", TSV),
        ("a.ndjson", NDJSON),
        ("a.json", JSON),
        ("a.xlsx", XLSX),
        ("readings", CSV),
    ],
)
def test_the_ending_of_a_file_tells_what_it_is(name, media_type):
    sent = taken(readings=(TABLE.encode(), name))
    assert (sent.name, sent.media_type, sent.body) == (name, media_type, TABLE.encode())


def test_a_workbook_without_an_ending_is_known_by_its_first_bytes():
    assert taken(readings=(b"PK\x03\x04rest", "readings")).media_type == XLSX


@pytest.mark.parametrize("name", ["a.ods", "a.pdf", "a.b.numbers"])
def test_another_file_is_refused_with_the_remedy(name):
    with pytest.raises(UnsupportedMedia, match="Save the table as CSV or XLSX"):
        taken(readings=(b"PK\x03\x04", name))


@pytest.mark.parametrize(
    ("text", "media_type"),
    [
        (TABLE, CSV),
        (TABLE.replace(",", "\t"), TSV),
        ('{"element": "a"}\n{"element": "b"}\n', NDJSON),
        ('[{"element": "a"}]', JSON),
        ('{"trial": {}, "readings": []}', JSON),
        ('{\n"readings": []\n}', JSON),
    ],
)
def test_a_pasted_table_is_known_by_its_look(text, media_type):
    assert taken(table=text).media_type == media_type


def test_a_file_goes_before_a_pasted_table_and_both_before_what_was_carried():
    carried = {field.name: field.value for field in Sent("old.csv", CSV, b"old").carried()}
    assert taken(readings=(b"new", "new.csv"), table="pasted", **carried).name == "new.csv"
    assert taken(table="pasted", **carried).body == b"pasted"
    assert taken(**carried) == Sent("old.csv", CSV, b"old")


def test_nothing_at_all_is_a_fault_with_the_remedy():
    with pytest.raises(BadInput) as refused:
        taken(table="  \n")
    assert refused.value.faults[0].detail.startswith("Choose a file, or paste the table")


def test_what_a_page_takes_along_comes_back_byte_by_byte():
    body = bytes(range(256)) * 20
    carried = {field.name: field.value for field in Sent("a.xlsx", XLSX, body).carried()}
    assert taken(**carried) == Sent("a.xlsx", XLSX, body)


def test_too_much_is_not_taken_along():
    noise = b"".join(hashlib.sha256(bytes([n % 256, n // 256])).digest() for n in range(MOST_CARRIED // 20))
    assert Sent("a.csv", CSV, noise).carried() == ()


def test_carried_readings_that_are_none_are_refused():
    for damaged in ("!!!", "AAAA"):
        with pytest.raises(BadRequest, match="were damaged"):
            taken(carried=damaged)
    bomb = {field.name: field.value for field in Sent("a.csv", CSV, b"0" * (MOST + 1)).carried()}
    with pytest.raises(TooLarge, match=f"more than {MOST} bytes"):
        taken(**bomb)


def test_a_form_shows_a_table_again_and_no_workbook_and_nothing_too_long():
    assert Sent("a.csv", CSV, "\ufeffé".encode()).text() == "é"
    assert Sent("a.csv", CSV, "é".encode("cp1252")).text() == "é"
    assert Sent("a.xlsx", XLSX, b"PK").text() is None
    assert Sent("a.csv", CSV, b"x" * (MOST_SHOWN + 1)).text() is None


def test_lines_are_counted_from_one():
    sent = Sent("a.csv", CSV, b"first\nsecond")
    assert [sent.line(number) for number in (0, 1, 2, 3)] == ["", "first", "second", ""]


@pytest.mark.parametrize(
    ("body", "has"),
    [
        (json.dumps({"trial": {}, "readings": []}), True),
        (json.dumps({"readings": []}), False),
        ("[]", False),
        ("{", False),
        ("[" * 100_000, False),
    ],
)
def test_a_json_file_may_hold_the_trial(body, has):
    assert Sent("a.json", JSON, body.encode()).has_trial is has
    assert not Sent("a.csv", CSV, body.encode()).has_trial
