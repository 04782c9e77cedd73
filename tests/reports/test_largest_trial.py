"""The largest trial there may be: each form stays of bounded size, and the CSV has what they leave out."""

import csv
import io
import json
from functools import cache

import pikepdf
import pytest

import reports
from reports.html import MOST_BYTES
from reports.pdf import SHORT
from service.settings import Limits
from tests.reports import sample_documents as samples
from tests.reports.made_once import made_once
from tests.reports.pdf_text import pages_of
from tests.reports.plain import visible
from tests.reports.sample_parts import trial_document

LIMITS = Limits()
ELEMENTS, CHANNELS = LIMITS.elements, LIMITS.channels
PAIRS = ELEMENTS * (ELEMENTS - 1) // 2
ROUNDS = LIMITS.pairs_times_rounds // PAIRS
MOST_PAGES, MOST_PDF, MOST_ROWS_OF_A_SHEET = 30, 2_000_000, 1_048_576
TOLD = "all of it stands in the CSV form"


def made() -> samples.Document:
    names = [f"element-{number}" for number in range(ELEMENTS)]
    trial = trial_document(elements=names, channels=CHANNELS, reference=None)
    for entry in trial["elements"]:
        entry["label"] = f"{entry['id']} ".ljust(LIMITS.text_characters, "x")
    effects = [0.02 * number for number in range(ELEMENTS)]
    return samples.document(trial, samples.readings(effects, rounds=ROUNDS, channels=CHANNELS))


@pytest.fixture(scope="module")
def largest() -> samples.Document:
    return json.loads(made_once("largest", make=lambda: json.dumps(made()).encode()))


@pytest.fixture(scope="module")
def form_of(largest):
    return cache(lambda form: made_once("largest", form, make=lambda: reports.render(largest, form)))


def test_the_trial_is_at_every_limit(largest):
    assert len(largest["elements"]) == 64
    assert len(largest["channels"]) == 2_000
    assert len(largest["pairs"]) == 2_016
    assert largest["verdict"]["rounds_done"] == 49 <= LIMITS.rounds


def test_the_page_is_bounded_and_says_where_the_rest_is(form_of):
    made = form_of("html")
    assert len(made) < MOST_BYTES
    text = visible(made.decode())
    assert f"400 of 2 016 rows are printed; {TOLD}" in text
    assert f"24 of 64 elements are printed; {TOLD}" in text
    assert "The last 24 of 49 rounds are printed" in text


def test_the_pdf_is_bounded_and_says_where_the_rest_is(form_of):
    made = form_of("pdf")
    with pikepdf.open(io.BytesIO(made)) as opened:
        assert len(opened.pages) <= MOST_PAGES
    assert len(made) < MOST_PDF
    text = " ".join(" ".join(pages_of(made)).replace("- ", "-").split())
    assert f"{SHORT.rows} of 2 016 rows are printed; {TOLD}" in text
    assert f"{SHORT.columns} of 64 elements are printed; {TOLD}" in text


def test_a_job_summary_is_bounded(form_of):
    assert len(form_of("markdown")) < 1_000_000
    assert len(form_of("summary")) < 1_000


def test_the_csv_leaves_nothing_out_and_fits_on_a_sheet(largest, form_of):
    rows = list(csv.reader(io.StringIO(form_of("csv").decode("utf-8-sig"), newline="")))
    counted = dict.fromkeys(("pairs", "channels", "rounds", "elements"), -1)
    for row in rows:
        if row[0] in counted:
            counted[row[0]] += 1
    assert counted == {
        "pairs": PAIRS,
        "channels": CHANNELS * ELEMENTS,
        "rounds": ROUNDS * ELEMENTS,
        "elements": ELEMENTS,
    }
    assert len(rows) < MOST_ROWS_OF_A_SHEET
    last = largest["channels"][-1]["elements"][-1]
    assert [row for row in rows if row[0] == "channels"][-1][4:8] == [
        last["element"],
        repr(last["mean"]),
        repr(last["low"]),
        repr(last["high"]),
    ]
