"""Every request has an id, a line in the log, and a count."""

import json

import pytest


def lines_of(log) -> list[dict]:
    return [json.loads(line) for line in log.getvalue().splitlines()]


@pytest.mark.parametrize("given", ["a", "Run-7.trace_1", "f" * 64])
def test_a_sane_id_of_the_caller_goes_back(client, given):
    assert client.get("/healthz", headers={"X-Request-Id": given}).headers["X-Request-Id"] == given


@pytest.mark.parametrize("given", ["", "f" * 65, "a b", "a;b", "é", '{"a":1}', "<script>"])
def test_any_other_is_replaced(client, given):
    made = client.get("/healthz", headers={"X-Request-Id": given}).headers["X-Request-Id"]
    assert made != given
    assert len(made) == 32


def test_no_two_requests_get_the_same_id(client):
    ids = {client.get("/healthz").headers["X-Request-Id"] for _ in range(20)}
    assert len(ids) == 20


@pytest.mark.parametrize(
    ("path", "headers", "status"),
    [("/nowhere", {}, 404), ("/healthz", {"Host": "other.example"}, 400), ("/v1/verdicts", {}, 405)],
)
def test_problems_carry_the_id_too(client, path, headers, status):
    answer = client.get(path, headers={"X-Request-Id": "mine", **headers})
    assert (answer.status_code, answer.headers["X-Request-Id"]) == (status, "mine")


def test_a_request_is_one_line_without_what_it_holds(client, log):
    secret = {"Authorization": "Bearer aa_" + "5" * 64, "X-Request-Id": "mine"}
    client.post(
        "/v1/verdicts?title=Quayside-52.5N", data=b"rod,1,27,7.25", content_type="text/csv", headers=secret
    )
    client.get("/nowhere/52.5N", headers={"X-Request-Id": "other"})
    first, second = lines_of(log)
    assert first.pop("at")
    assert first.pop("milliseconds") >= 0
    assert first == {
        "level": "info",
        "from": "aerial_assay.requests",
        "message": "answered",
        "request_id": "mine",
        "owner": "",
        "method": "POST",
        "route": "/v1/verdicts",
        "status": 401,
    }
    assert (second["route"], second["status"]) == ("none", 404)
    for line in map(json.dumps, (first, second)):
        assert not [text for text in ("5555", "Quayside", "52.5N", "7.25", "127.0.0.1") if text in line]


def test_a_fault_of_our_own_is_logged_under_the_id_of_its_request(client, desk, log):
    desk.meets(RuntimeError("secret reading"))
    answer = client.post("/v1/verdicts", json={}, headers={"X-Request-Id": "mine"})
    fault, line = lines_of(log)
    assert (fault["request_id"], line["request_id"], line["status"]) == ("mine", "mine", 500)
    assert fault["problem_id"] == answer.json["id"]
    assert "secret" not in json.dumps([fault, line])
