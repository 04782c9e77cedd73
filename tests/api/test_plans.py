"""POST /v1/plans: every form, what is continued, every refusal; what is filled in posts back unchanged."""

import csv
import io
import json
from pathlib import Path

import openpyxl
import pytest
from marshmallow import fields

from service.api.negotiation import PLAN_FORMS
from service.api.schemas.plan_questions import PlanQuestionSchema
from service.api.schemas.plans import TrialPlanSchema
from service.app import create_app
from service.settings import Limits, Settings
from tests.api.kept_requests import faults, problem

REQUEST = json.loads(
    (Path(__file__).parents[2] / "openapi" / "examples" / "plan-request.json").read_text(encoding="utf-8")
)
PATH = "/v1/plans"
XLSX = PLAN_FORMS["xlsx"]


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


@pytest.fixture(scope="module")
def plan(client):
    answer = client.post(PATH, json=REQUEST)
    assert answer.status_code == 200, answer.json
    return answer.json


def changed(**changes):
    return {**REQUEST, **changes}


def as_described(schema, answer):
    """Hold every object of the answer against the fields of its schema."""
    described = {field.data_key or name: field for name, field in schema.fields.items()}
    assert set(answer) == set(described)
    for name, field in described.items():
        if isinstance(field, fields.Nested) and answer[name] is not None and name != "trial":
            as_described(field.schema, answer[name])
        if isinstance(field, fields.List) and isinstance(field.inner, fields.Nested):
            for entry in answer[name]:
                as_described(field.inner.schema, entry)


def test_the_example_is_as_described_and_is_answered(plan):
    assert PlanQuestionSchema().validate(REQUEST) == {}
    as_described(TrialPlanSchema(), plan)
    assert (plan["rounds"], plan["minutes"], len(plan["order"])) == (5, 180, 30)
    assert "5 rounds of 6 elements: 30 runs of 6 minutes" in plan["statement"]
    assert len(plan["safety"]) == 7
    assert all(caution["message"] for caution in plan["cautions"])


def test_the_same_question_has_the_same_answer(client, plan):
    assert client.post(PATH, json=REQUEST).json == plan


def filled(plan, content):
    """The workbook with a number in every cell of a reading, by the very sheet that was sent."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    sheet = book["readings"]
    for row in range(2, 2 + len(plan["trial"]["channels"])):
        for column in range(3, 3 + len(plan["order"])):
            sheet.cell(row, column).value = (row * column) % 11
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def judged(client, body, media_type, trial):
    parts = {
        "readings": (io.BytesIO(body), "readings", media_type),
        "trial": (io.BytesIO(json.dumps(trial).encode()), "trial.json", "application/json"),
    }
    return client.post("/v1/verdicts", data=parts, content_type="multipart/form-data")


def test_the_workbook_filled_with_numbers_posts_back_with_no_fault(client, plan):
    answer = client.post(f"{PATH}?form=xlsx", json=REQUEST)
    assert answer.content_type == XLSX
    verdict = judged(client, filled(plan, answer.data), XLSX, plan["trial"])
    assert verdict.status_code == 200, verdict.json
    found = verdict.json
    assert found["verdict"]["rounds_done"] == 5
    assert found["read_as"]["sheet"] == "readings"
    assert (found["read_as"]["elements"], found["read_as"]["channels"]) == (6, 4)
    assert found["trial"]["planned_rounds"] == 5
    codes = {caution["code"] for caution in found["cautions"]}
    assert not codes & {"plan-not-stated", "rf-channel-unknown", "rounds-inferred", "blanks-read-as-lost"}


def test_so_does_the_csv(client, plan):
    answer = client.post(f"{PATH}?form=csv", json=REQUEST)
    assert answer.content_type == "text/csv; charset=utf-8"
    heading, *rows = csv.reader(io.StringIO(answer.data.decode("utf-8-sig")))
    assert heading[2:] == [f"{run['element']}@{run['round']}" for run in plan["order"]]
    text = io.StringIO()
    csv.writer(text).writerows([heading, *([*row[:2], *[5] * 30] for row in rows)])
    verdict = judged(client, text.getvalue().encode("utf-8-sig"), "text/csv", plan["trial"])
    assert verdict.status_code == 200, verdict.json
    assert verdict.json["verdict"]["rounds_done"] == 5


def test_names_that_a_spreadsheet_would_run_come_back_as_they_were(client):
    trial = {
        "meter": {"unit": "bars", "highest": 10},
        "elements": [{"id": "=1+1"}, {"id": "a@b"}, {"id": "'-c"}],
        "channels": [{"id": "@sum", "rf_channel": "-2"}, {"id": "ä,ö"}],
    }
    asked = changed(trial=trial)
    plan = client.post(PATH, json=asked).json
    for form in ("xlsx", "csv"):
        content = client.post(f"{PATH}?form={form}", json=asked).data
        if form == "xlsx":
            content = filled(plan, content)
        else:
            content = content.replace(b",,", b",5,").replace(b",,", b",5,").replace(b",\r\n", b",5\r\n")
            content = content.replace('"ä,ö",5,'.encode(), '"ä,ö",,'.encode())
        verdict = judged(client, content, PLAN_FORMS[form], {**plan["trial"], "elements": [], "channels": []})
        assert verdict.status_code == 200, verdict.json
        assert {entry["id"] for entry in verdict.json["elements"]} == {"=1+1", "a@b", "'-c"}
        assert {entry["id"]: entry["rf_channel"] for entry in verdict.json["channels"]}["@sum"] == "-2"


@pytest.mark.parametrize(
    ("form", "begins"), [("html", b"<!DOCTYPE html>"), ("pdf", b"%PDF-1."), ("text", b"5 rounds of 6")]
)
def test_the_run_sheet_comes_as_page_pdf_and_text(client, form, begins):
    answer = client.post(PATH, json=REQUEST, headers={"Accept": PLAN_FORMS[form]})
    assert answer.status_code == 200
    assert answer.data.startswith(begins)
    assert answer.content_type.startswith(PLAN_FORMS[form])
    assert answer.headers["Vary"] == "Accept"
    if form == "html":
        assert "sha256-" in answer.headers["Content-Security-Policy"]
    else:
        assert answer.headers["Content-Disposition"].startswith("inline")


@pytest.mark.parametrize(
    ("changes", "places"),
    [
        ({"trial": None, "chance": 2}, ["#/chance", "#/trial"]),
        ({"trial": {"meter": {"unit": "bar"}}, "minutes_available": "x"},
         ["#/minutes_available", "#/trial/meter/unit"]),
        ({"trial": {**REQUEST["trial"], "reference": "nobody"}}, ["#/trial/reference"]),
        ({"minutes_available": 10}, ["#/minutes_available"]),
        ({"continues": 7}, ["#/continues"]),
        ({"continues": [{"element": "brass-3", "channel": "Voe Radio", "value": 77}]},
         ["#/continues/0/value"]),
        ({"perhaps": 1}, ["#/perhaps"]),
    ],
)  # fmt: skip
def test_every_fault_is_told_with_its_place(client, changes, places):
    assert [fault["pointer"] for fault in faults(client.post(PATH, json=changed(**changes)))] == places


@pytest.mark.parametrize(
    ("sent", "status"),
    [
        ({"data": b"{", "content_type": "application/json"}, 400),
        ({"data": b"[]", "content_type": "application/json"}, 422),
        ({"data": b"a,b", "content_type": "text/csv"}, 415),
        ({"data": {"plan": "{}"}, "content_type": "multipart/form-data"}, 422),
        ({"data": {"readings": (io.BytesIO(b"a"), "a.csv")}, "content_type": "multipart/form-data"}, 422),
        ({"json": REQUEST, "query_string": "form=card"}, 406),
        ({"json": REQUEST, "query_string": "form=pdf&paper=a3"}, 422),
        ({"json": REQUEST, "query_string": "unit=bars"}, 422),
    ],
)
def test_what_cannot_be_answered_is_a_problem(client, sent, status):
    problem(client.post(PATH, **sent), status)


def test_a_sheet_that_would_be_a_book_is_refused_with_the_remedy(client):
    channels = [{"id": f"c{number}"} for number in range(200)]
    asked = changed(trial={**REQUEST["trial"], "channels": channels})
    told = problem(client.post(f"{PATH}?form=pdf", json=asked), 413)
    assert "form=xlsx" in told["detail"]


def test_more_elements_than_are_taken_are_refused():
    app = create_app(Settings(limits=Limits(elements=3)))
    (fault,) = faults(app.test_client().post(PATH, json=REQUEST))
    assert fault["pointer"] == "#/trial/elements"
    app.close()
