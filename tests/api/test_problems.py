"""Every error leaves as application/problem+json, and none with a trace."""

import json
import logging

import pytest

from service.api.problems import KINDS
from service.errors import (
    BadInput,
    BadRequest,
    Fault,
    NotAcceptable,
    TooLarge,
    TooMany,
    UnsupportedMedia,
)
from service.jobs.failures import Failure, WorkerLostError

OWN = "a fault of our own"


def post(client, **options):
    return client.post("/v1/verdicts", json={}, **options)


def assert_problem(answer, status: int) -> dict:
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    problem = answer.json
    assert problem["status"] == status
    assert problem["detail"]
    assert {"type", "title", "status", "detail"} <= problem.keys()
    assert b"Traceback" not in answer.data
    return problem


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (BadRequest("broken"), 400),
        (NotAcceptable("no"), 406),
        (TooLarge("much"), 413),
        (UnsupportedMedia("odd"), 415),
        (TooMany("busy", headers={"Retry-After": "10"}), 429),
    ],
)
def test_an_error_of_our_tree_keeps_its_status_detail_and_headers(client, desk, error, status):
    desk.meets(error)
    answer = post(client)
    assert assert_problem(answer, status)["detail"] == error.detail
    assert answer.headers.get("Retry-After") == error.headers.get("Retry-After")


def test_bad_input_lists_its_places_and_counts_all(client, desk):
    faults = [
        Fault("a number is wanted", row=7, column="value", given="7/10"),
        Fault("one of bars, dB", pointer="#/trial/meter/unit", given="feet"),
    ]
    desk.meets(BadInput(faults, count=250))
    problem = assert_problem(post(client), 422)
    assert problem["errors"] == [
        {"row": 7, "column": "value", "given": "7/10", "detail": "a number is wanted"},
        {"pointer": "#/trial/meter/unit", "given": "feet", "detail": "one of bars, dB"},
    ]
    assert problem["count"] == 250


def test_a_fault_of_our_own_is_logged_under_the_id_that_is_told(client, desk, caplog):
    desk.meets(RuntimeError("secret reading 41.5"))
    with caplog.at_level(logging.ERROR, logger="aerial_assay"):
        problem = assert_problem(post(client), 500)
    (record,) = caplog.records
    assert (record.getMessage(), record.problem_id) == (OWN, problem["id"])
    assert record.kind == "RuntimeError"
    assert any("conftest.py" in frame for frame in record.frames)
    assert "41.5" not in json.dumps([record.getMessage(), record.frames]) + json.dumps(problem)


def test_two_faults_have_two_ids(client, desk):
    desk.meets(RuntimeError())
    assert post(client).json["id"] != post(client).json["id"]


def test_a_lost_worker_is_told_with_when_to_try_again(client, desk, caplog):
    desk.meets(WorkerLostError(Failure("WorkerLost", ()), headers={"Retry-After": "5"}))
    answer = post(client)
    assert assert_problem(answer, 503)["id"] == caplog.records[-1].problem_id
    assert answer.headers["Retry-After"] == "5"


def test_a_result_that_is_not_json_is_a_fault_of_our_own(client, desk, monkeypatch):
    monkeypatch.setattr(desk, "document", lambda _batch: {"score": float("nan")})
    assert_problem(post(client), 500)


@pytest.mark.parametrize("path", ["/nope", "/v1", "/v1/verdicts/7", "/v1/problems/nope"])
def test_what_is_not_there_is_a_404(client, path):
    assert_problem(client.get(path), 404)


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("GET", "/v1/verdicts", {"POST"}),
        ("DELETE", "/v1/verdicts", {"POST"}),
        ("OPTIONS", "/v1/verdicts", {"POST"}),
        ("POST", "/healthz", {"GET", "HEAD"}),
        ("TRACE", "/healthz", {"GET", "HEAD"}),
    ],
)
def test_a_wrong_method_is_told_what_is_allowed(client, method, path, allowed):
    answer = client.open(path, method=method)
    assert_problem(answer, 405)
    assert set(answer.headers["Allow"].split(", ")) == allowed


def test_the_type_of_each_problem_leads_to_its_meaning(client):
    for status, kind in KINDS.items():
        meaning = client.get(f"/v1/problems/{kind.name}").json
        assert meaning == {"name": kind.name, "title": kind.title, "status": status, "remedy": kind.remedy}
    problem = client.get("/nope").json
    assert client.get(problem["type"]).json["status"] == 404


def test_slashes_do_not_redirect(client):
    assert_problem(client.get("/v1//openapi.json"), 404)
    assert client.get("/healthz/").status_code == 200


def test_not_ready_is_a_problem_with_when_to_try_again(client, desk):
    assert client.get("/readyz").json == {"status": "ready"}
    desk.busy = True
    answer = client.get("/readyz")
    assert_problem(answer, 503)
    assert answer.headers["Retry-After"] == "10"
    assert client.get("/healthz").json == {"status": "alive"}
