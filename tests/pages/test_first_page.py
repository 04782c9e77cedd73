"""The form of the first page without a browser: what it asks for, what it takes, what it says of faults."""

import io
import json

import pytest

from service.pages.troubles import place_of
from tests.pages.forms import text_of
from tests.pages.places import METER, SIX_ROUNDS

BOTH = {
    "trial": {"meter": {"unit": "dB"}},
    "readings": [{"element": e, "round": 1, "channel": "Quay", "value": 20} for e in "ab"],
}


def test_the_first_page_is_for_browsers_and_for_whoever_takes_anything(client):
    for accept in ("text/html", "*/*"):
        answer = client.get("/", headers={"Accept": accept})
        assert (answer.status_code, answer.mimetype) == (200, "text/html")


def test_whoever_comes_back_to_the_verdict_without_readings_is_led_to_the_form(client):
    answer = client.get("/verdict")
    assert (answer.status_code, answer.location) == (303, "/")


def test_what_the_meter_shows_has_to_be_said(client):
    answer = client.post("/verdict", data={"table": SIX_ROUNDS})
    assert answer.status_code == 422
    assert "The meter shows" in text_of(answer)
    assert "Choose what your meter shows" in text_of(answer)
    assert "Harbour,22" in answer.get_data(as_text=True)


def test_a_json_file_that_holds_the_trial_needs_nothing_else(client):
    file = {"readings": (io.BytesIO(json.dumps(BOTH).encode()), "both.json")}
    answer = client.post("/verdict", data=file)
    assert answer.status_code == 200
    assert "2 elements, 1 round" in text_of(answer)


def test_an_unknown_example_is_an_empty_form(client):
    assert client.get("/?example=nothing").status_code == 200


def test_the_json_of_a_verdict_is_the_document(client):
    answer = client.post("/verdict", data={"table": SIX_ROUNDS, "form": "json", **METER})
    assert answer.json["verdict"]["outcome"] == "clear winner"


def test_a_file_that_is_not_read_is_refused_beside_the_form(client):
    answer = client.post("/verdict", data=METER | {"readings": (io.BytesIO(b"x"), "a.ods")})
    assert answer.status_code == 415
    assert "Save the table as CSV or XLSX" in text_of(answer)
    assert 'value="10"' in answer.get_data(as_text=True)


def test_a_workbook_with_faults_stays_with_the_form(client):
    answer = client.post("/verdict", data=METER | {"readings": (io.BytesIO(b"PK no workbook"), "a.xlsx")})
    assert 400 <= answer.status_code < 500
    assert "a.xlsx is still here" in text_of(answer)
    assert 'name="carried"' in answer.get_data(as_text=True)


def test_a_fault_that_comes_again_and_again_is_explained_once(client):
    told = text_of(client.post("/verdict", data={"table": SIX_ROUNDS.replace(",7,", ",7 %,"), **METER}))
    assert told.count("This cell is in percent") == 1
    assert told.count("As above.") > 2
    assert told.count("7 %") > 4


def test_a_mark_that_is_not_known_is_answered_with_what_may_be_written(client):
    told = text_of(client.post("/verdict", data={"table": SIX_ROUNDS.replace(",7,", ",n/a,", 1), **METER}))
    assert "If n/a means that nothing was found, write none in its place. If" in told
    assert "that the channel was not scanned, write not scanned." in told


def test_a_table_too_long_to_be_pasted_is_to_be_sent_as_a_file(client):
    head = b'--edge\r\nContent-Disposition: form-data; name="table"\r\n\r\n'
    body = head + b"x" * (2**20 + 1) + b"\r\n--edge--\r\n"
    answer = client.post("/verdict", data=body, content_type="multipart/form-data; boundary=edge")
    assert (answer.status_code, answer.mimetype) == (413, "text/html")
    assert "save a larger one as a file" in text_of(answer)


def test_a_strangers_text_stays_text(client):
    table = SIX_ROUNDS.replace("Harbour", "<script>alert(1)</script>").replace("brass rod", '"><img src=x>')
    for data in ({"table": table}, {"table": table, **METER}):
        page = client.post("/verdict", data=data).get_data(as_text=True)
        assert "<script>alert" not in page
        assert "<img src=x>" not in page


@pytest.mark.parametrize(
    ("fault", "where"),
    [
        ({"row": 3, "column": "a", "detail": "d"}, "Line 3, column a"),
        ({"column": "round", "detail": "d"}, "Column round"),
        ({"pointer": "#/trial/meter", "detail": "d"}, "trial, meter"),
        ({"parameter": "unit", "detail": "d"}, "unit"),
        ({"detail": "d"}, "The whole of it"),
    ],
)
def test_a_fault_of_a_problem_is_placed(fault, where):
    assert place_of(fault).where == where
