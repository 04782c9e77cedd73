"""The small invented trial is the same trial in every form of openapi/examples."""

import json

import pytest

from service.analysis import analyse
from service.statistics.bell_reference import MemoryStore
from tests.intake.made_batches import CSV, JSON, batch, cells
from tests.intake.made_workbooks import XLSX
from tests.intake.write_examples import EXAMPLES, FOLDER

FILES = {
    "semicolon.csv": CSV, "wide.csv": CSV, "spreadsheet.csv": CSV, "readings.ndjson": "application/x-ndjson",
    "readings.xlsx": XLSX,
}  # fmt: skip


@pytest.fixture(scope="module")
def request_body():
    return (FOLDER / "verdict-request.json").read_bytes()


STORE = MemoryStore()


def judged(trial, readings):
    document = analyse(trial, readings, store=STORE)
    return {
        name: part for name, part in document.items() if name not in {"read_as", "provenance", "reading_s"}
    }


@pytest.mark.parametrize("name", FILES)
def test_a_file_holds_the_readings_of_the_request(request_body, name):
    _, asked = batch(request_body, JSON, trial=None)
    trial = json.loads(request_body)["trial"]
    _, readings = batch((FOLDER / name).read_bytes(), FILES[name], trial=trial)
    assert cells(readings) == cells(asked)
    assert set(readings.frame["rf_channel"]) == set(asked.frame["rf_channel"])


def test_they_get_the_same_verdict(request_body):
    trial = json.loads(request_body)["trial"]
    wanted = judged(*batch(request_body, JSON, trial=None))
    for name, media_type in FILES.items():
        assert judged(*batch((FOLDER / name).read_bytes(), media_type, trial=trial)) == wanted


def test_the_spreadsheet_is_told_as_it_is(request_body):
    trial = json.loads(request_body)["trial"]
    told = batch((FOLDER / "spreadsheet.csv").read_bytes(), trial=trial)[1].read_as
    assert (told["encoding"], told["delimiter"], told["decimal_mark"], told["header_row"]) == (
        "cp1252",
        ";",
        ",",
        3,
    )
    assert [(entry["why"], entry["code"]) for entry in told["skipped"]] == [
        ("the line stands above the heading", "above-heading"),
        ("the row is the mean of the others", "row-of-means"),
    ]
    assert told["columns"][2] == {
        "heading": "copper-loop@1 (dBµV)", "read_as": "copper-loop, round 1, in dBuV",
        "code": "run", "evidence": {"element": "copper-loop", "round": 1, "unit": "dBuV"},
    }  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_files_are_what_the_script_writes(name):
    made = EXAMPLES[name]()
    assert made == EXAMPLES[name]()
    if name != "readings.xlsx":  # its parts may change with the library that writes it
        assert made == (FOLDER / name).read_bytes()
