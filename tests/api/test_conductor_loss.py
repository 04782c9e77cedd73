"""POST /v1/conductor-loss."""

import json
from pathlib import Path

import pytest

from service.api.schemas.radio import LossAnswerSchema, LossQuestionSchema

EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "conductor-loss-request.json"


@pytest.fixture
def question():
    return json.loads(EXAMPLE.read_text(encoding="utf-8"))


def names(schema):
    return set(schema().fields)


def test_the_example_is_as_described_and_is_answered(client, question):
    assert LossQuestionSchema().validate(question) == {}
    answer = client.post("/v1/conductor-loss", json=question)
    assert answer.status_code == 200
    assert set(answer.json) == names(LossAnswerSchema)
    assert [row["rf_channel"] for row in answer.json["rows"]] == question["rf_channels"]


def test_every_part_of_the_answer_is_as_described(client, question):
    question["second"]["coating"] = "zinc 1 um"  # not several skin depths thick
    answer = client.post("/v1/conductor-loss", json=question).json
    fields = LossAnswerSchema().fields
    for name in ("rows", "materials", "coatings", "formulas"):
        assert all(set(entry) == set(fields[name].inner.schema.fields) for entry in answer[name])
    row = fields["rows"].inner.schema.fields
    assert all(set(entry["first"]) == set(row["first"].schema.fields) for entry in answer["rows"])
    reason = row["reasons"].inner.schema.fields
    reasons = [reason for entry in answer["rows"] for reason in entry["reasons"]]
    assert reasons
    assert all(set(entry) == set(reason) for entry in reasons)


def test_metals_are_told_with_source_and_status_and_memory_says_so(client, question):
    question["first"]["material"] = "silver"
    question["second"] |= {"material": "phosphor bronze", "coating": None}
    metals = {
        entry["name"]: entry for entry in client.post("/v1/conductor-loss", json=question).json["materials"]
    }
    assert set(metals) == {"silver", "phosphor bronze"}
    assert all(entry["status"].startswith("memory") and entry["source"] for entry in metals.values())


def test_coatings_are_told_with_source_and_status_and_memory_says_so(client, question):
    question["second"] |= {"coating": "en 10244-2 class a"}
    (coat,) = client.post("/v1/conductor-loss", json=question).json["coatings"]
    assert (coat["name"], coat["status"]) == ("zinc", "memory")
    assert coat["thickness_um"]["low"] == pytest.approx(245 / 7.14)  # 2.68 mm wire
    assert coat["source"]


def test_lengths_in_inches_and_feet_are_read(client, question):
    metric = client.post("/v1/conductor-loss", json=question).json
    question["first"] = {"material": "copper", "diameter": "0.1023622047 in", "length": "60 cm"}
    del question["second"]["length_mm"]
    question["antenna"]["length"] = "0.6 m"
    answer = client.post("/v1/conductor-loss", json=question)
    assert answer.status_code == 200, answer.json["errors"]
    for row, wanted in zip(answer.json["rows"], metric["rows"], strict=True):
        assert row["metal_difference_db"] == pytest.approx(wanted["metal_difference_db"], rel=1e-6)


def test_far_from_validity_the_answer_says_so_and_gives_bounds_and_no_number(client, question):
    del question["rf_channels"], question["region"]
    question["frequencies_mhz"] = [3000]
    (row,) = client.post("/v1/conductor-loss", json=question).json["rows"]
    assert row["valid"] is False
    assert "wavelengths long" in row["why"]
    (reason,) = row["reasons"]
    assert reason["code"] == "too-long"
    assert reason["evidence"]["wavelengths"] == pytest.approx(row["length_in_wavelengths"])
    assert row["metal_difference_db"] is row["first"]["loss_ohm"] is None
    assert row["metal_difference_range_db"]["low"] < row["metal_difference_range_db"]["high"]
    assert row["metal_difference_bound_db"] > 0


def test_bad_input_is_a_problem_with_every_place(client, question):
    question["first"]["material"] = "unobtainium"
    question["rf_channels"] = ["27.1"]
    answer = client.post("/v1/conductor-loss", json=question)
    assert answer.status_code == 422
    assert answer.content_type == "application/problem+json"
    places = {error["pointer"]: error["detail"] for error in answer.json["errors"]}
    assert "copper" in places["#/first/material"]
    assert "21 to 48" in places["#/rf_channels"]


@pytest.mark.parametrize(
    ("body", "media_type", "status"),
    [
        (b"{", "application/json", 400),
        (b'{"first": NaN}', "application/json", 400),
        (b"[]", "application/json", 422),
        (b"a,b", "text/csv", 415),
        (b"{}", "", 415),
    ],
)
def test_what_cannot_be_read_is_a_problem(client, body, media_type, status):
    answer = client.post("/v1/conductor-loss", data=body, content_type=media_type)
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    if status == 415:
        assert answer.headers["Accept-Post"] == "application/json"


def test_a_body_over_the_limit_is_refused(client, question):
    question["first"]["label"] = "x" * 1000
    assert client.post("/v1/conductor-loss", json=question).status_code == 413
