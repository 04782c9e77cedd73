"""The section on how often the tool is wrong prints the measured file, number by number, and nothing else."""

import json
import re
from dataclasses import replace

import pytest

from reports import numerals
from reports.error_rates import FILE, Kind, error_rates
from reports.view import error_rates as view
from reports.view.model import Bounds, Image
from reports.wording import error_rates as words
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports.plain import visible

BOUNDS = Bounds(rows=100, columns=10, picture_rows=10, picture_columns=10, channels=10)
STORED = json.loads(FILE.read_text(encoding="utf-8"))
ALL_ROWS = [*STORED["rows"], *STORED["beyond"]]
GOOD = Kind("normal", (2, 8), (0.002, 0.0486), (0.0, 0.0404), 0.05, within=True)
BAD = Kind("very skewed", (2,), (0.1016, 0.1016), (0.0004, 0.1016), 0.05, within=False)


def section(drawn=None):
    def draw(picture):
        if drawn is not None:
            drawn.append(picture)
        return Image("data:,", ())

    return view.section(speech_of(samples.two_elements()), draw, BOUNDS)


def measured(promised, beyond):
    return replace(error_rates(), promised=tuple(promised), beyond=tuple(beyond))


def said(found, **fields):
    return " ".join(words.sentences(speech_of(samples.two_elements(**fields)), found))


def printed(field: str, noise: str) -> str:
    """Fewest and most of a thousand as the file has them, worked out apart from the code under test."""
    values = [row[field] for row in ALL_ROWS if row["noise"] == noise]
    ends = [numerals.in_a_thousand(value) for value in (min(values), max(values))]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def test_the_file_has_the_fields_and_the_command_that_made_it():
    assert STORED["made_by"].startswith("python -m tests.calibration.study")
    assert STORED["trials"] >= 1000
    assert STORED["rows"]


def test_each_number_of_the_table_is_that_of_the_file():
    (table,) = section().tables
    noises = list(dict.fromkeys(row["noise"] for row in ALL_ROWS))
    assert [row.head.text for row in table.rows] == noises
    for row in table.rows:
        noise = row.head.text
        assert row.cells[1].text == printed("pair_falsely_called", noise)
        assert row.cells[2].text == printed("winner_falsely_named", noise)
        numbers = {entry["elements"] for entry in ALL_ROWS if entry["noise"] == noise}
        assert {int(number) for number in re.findall(r"\d+", row.cells[0].text)} == numbers


def test_the_picture_shows_the_numbers_of_the_file():
    drawn = []
    section(drawn)
    (picture,) = drawn
    above = {row["noise"] for row in STORED["beyond"] if not row["within_promise"]}
    assert {rate.name for rate in picture.rates} == {row["noise"] for row in STORED["rows"]} | {
        f"{noise} *" for noise in above
    }
    for rate in picture.rates:
        noise = rate.name.removesuffix(" *")
        rows = [row for row in ALL_ROWS if row["noise"] == noise]
        for ends, field in ((rate.called, "pair_falsely_called"), (rate.named, "winner_falsely_named")):
            shares = [row[field] for row in rows]
            assert ends == pytest.approx((1000 * min(shares), 1000 * max(shares)))


def test_shares_become_whole_numbers_of_a_thousand():
    assert [numerals.in_a_thousand(share) for share in (0, 0.0004, 0.0016, 0.0486, 0.05)] == [
        "0",
        "under 1",
        "2",
        "49",
        "50",
    ]


def test_it_says_where_the_promise_does_not_hold():
    text = said(measured([GOOD], [BAD, replace(GOOD, noise="mild")]))
    assert "at most 50 call some pair of equals different, and at most 50 name a false winner" in text
    assert "It does not hold for every noise" in text
    assert "very skewed (up to 102 of 1000)" in text
    assert "mild" not in text


def test_a_broken_promise_is_not_called_held():
    text = said(measured([GOOD, BAD], []))
    assert "Measured beyond the promise, by more than chance: very skewed (up to 102 of 1000)" in text
    assert "the promise held" not in text
    assert "the promise held with each of the 1 kinds" in said(measured([GOOD], []))


def test_the_column_tells_promised_and_not_promised_apart():
    assert words.held(GOOD, promised=True) == "yes"
    assert words.held(BAD, promised=True) == "no"
    assert words.held(BAD, promised=False) == "none made; above"
    assert words.held(GOOD, promised=False) == "none made; within"


def test_another_confidence_is_said_to_be_another_promise():
    assert "100 of 1000 are allowed" in said(error_rates(), confidence=0.9)
    assert "are allowed" not in said(error_rates())


def test_every_report_carries_the_section(html, pdf_pages):
    for text in (visible(html("two elements")), " ".join(pdf_pages("two elements"))):
        assert "How often this tool is wrong" in text
        assert "Simulated noise, no readings of any mast" in text
        most = max(row["pair_falsely_called"] for row in STORED["rows"])
        assert f"At worst {numerals.in_a_thousand(most)} of 1000" in text
