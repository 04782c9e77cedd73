"""POST /v1/design-histories, end to end on kept trials: the example, every form, weathering, refusals."""

import json
from pathlib import Path

import pytest

from service.api.negotiation import HISTORY_FORMS
from service.api.schemas.design_histories import DesignHistoryRequestSchema, DesignHistorySchema
from service.client.history import FORMS, STATUSES
from tests.api.kept_requests import Kept, faults, problem

OPENAPI = Path(__file__).parents[2] / "openapi"
EXAMPLES = OPENAPI / "examples"
SCHEMA = json.loads((OPENAPI / "design-history.schema.json").read_text(encoding="utf-8"))
REQUEST = json.loads((EXAMPLES / "design-history-request.json").read_text(encoding="utf-8"))
TRIAL = json.loads((EXAMPLES / "design-history-trial.json").read_text(encoding="utf-8"))
TABLES = [(EXAMPLES / f"design-history-{place}.csv").read_bytes() for place in range(1, 5)]
PATH = "/v1/design-histories"


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def kept_trial(client, table, **fields):
    one = Kept.new(client, TRIAL | fields)
    one.sent(table)
    return one.id


@pytest.fixture(scope="module")
def trials(client):
    return [kept_trial(client, table) for table in TABLES]


@pytest.fixture(scope="module")
def answer(client, trials):
    return client.post(PATH, json=REQUEST | {"trials": trials})


def test_the_example_is_as_described_and_answered(answer, trials):
    assert DesignHistoryRequestSchema().validate(REQUEST) == {}
    assert answer.status_code == 200, answer.data
    assert set(answer.json) == set(DesignHistorySchema().fields) == set(SCHEMA["properties"])
    assert answer.json["outcome"] == answer.headers["X-Outcome"] == "creeps"
    assert [trial["id"] for trial in answer.json["trials"]] == trials
    dates = [point["date"][:10] for point in answer.json["points"]]
    assert dates == ["2024-05-04", "2024-11-16", "2025-06-07", "2026-05-09"]
    assert "Whip on the roof creeps down against Spare kept indoors" in answer.json["statement"]


def test_the_order_of_the_trials_changes_no_byte(client, trials, answer):
    turned = client.post(PATH, json=REQUEST | {"trials": trials[::-1]})
    assert turned.data == answer.data


@pytest.mark.parametrize(
    "case",
    [
        ("html", "text/html; charset=utf-8", b"<!DOCTYPE html>"),
        ("pdf", "application/pdf", b"%PDF-"),
        ("markdown", "text/markdown; charset=utf-8", b"### creeps: "),
        ("text", "text/plain; charset=utf-8", b"Outcome: creeps\n"),
    ],
)
def test_every_form_is_made(client, trials, case):
    form, kind, start = case
    body = REQUEST | {"trials": trials}
    made = client.post(f"{PATH}?form={form}", json=body)
    assert (made.status_code, made.content_type) == (200, kind)
    assert made.data.startswith(start)
    assert (made.headers["Vary"], made.headers["X-Outcome"]) == ("Accept", "creeps")


def test_numbers_are_written_as_the_locale_has_them(client, trials):
    body = REQUEST | {"trials": trials}
    text = client.post(f"{PATH}?form=text&locale=en-DE", json=body).data.decode()
    assert "reaches beyond 0,5 bars" in text
    assert " 0.5 " not in text


def test_the_accept_header_names_a_form_too(client, trials):
    body = REQUEST | {"trials": trials}
    by_accept = client.post(PATH, json=body, headers={"Accept": "text/plain"})
    assert by_accept.data == client.post(f"{PATH}?form=text", json=body).data


def test_the_forms_and_outcomes_are_those_of_the_command():
    assert set(FORMS) == set(HISTORY_FORMS)
    assert set(STATUSES) == set(SCHEMA["properties"]["outcome"]["enum"])


def test_weathering_the_same_element_then_and_now_is_a_design_check_and_says_so(client, trials):
    """A design check may name the same element of two kept trials on both sides."""
    body = {
        "baseline": {"trial": trials[0], "element": "roof-whip"},
        "candidates": [{"trial": trials[-1], "element": "roof-whip"}],
    }
    checked = client.post("/v1/design-checks", json=body).json
    assert checked["outcome"] == "falls short"
    said = "Whip on the roof now falls short of Whip on the roof then by more than the margin of 0.5 bars."
    assert checked["statement"].startswith(said)
    assert any("held against itself, then and now" in sentence for sentence in checked["not_seen"])
    text = client.post("/v1/design-checks?form=markdown", json=body).data.decode()
    assert "Design check: Whip on the roof now against Whip on the roof then" in text
    history = client.post(PATH, json=REQUEST | {"trials": trials}).json
    assert history["first_to_last"]["difference"] == pytest.approx(checked["checks"][0]["difference"])


def test_a_trial_without_times_is_refused_with_the_remedy(client, trials):
    lines = [line.rpartition(b",")[0] for line in TABLES[1].splitlines()]
    bare = kept_trial(client, b"\n".join(lines))
    (fault,) = faults(client.post(PATH, json=REQUEST | {"trials": [trials[0], bare, trials[2]]}))
    assert (fault["pointer"], fault["given"]) == ("#/trials/1", bare)
    assert "Send its readings again with `at`" in fault["detail"]


def test_a_trial_without_readings_is_named(client, trials):
    empty = Kept.new(client, TRIAL).id
    (fault, *_) = faults(client.post(PATH, json=REQUEST | {"trials": [*trials[:2], empty]}))
    assert empty in fault["detail"]


def test_trials_that_are_not_there_or_not_alike_are_refused(client, trials):
    problem(client.post(PATH, json=REQUEST | {"trials": [*trials[:2], "0" * 32]}), 404)
    other = kept_trial(client, TABLES[2], meter={"unit": "dB"})
    found = faults(client.post(PATH, json=REQUEST | {"trials": [*trials[:2], other]}))
    assert {fault["pointer"] for fault in found} == {"#/trials/2"}
    assert "The meter's unit is dB here and bars in the first trial" in found[0]["detail"]


@pytest.mark.parametrize(
    ("changes", "places"),
    [
        ({"trials": ["a", "b"]}, ["#/trials"]),
        ({"trials": ["a", "b", "b"]}, ["#/trials"]),
        ({"trials": "a,b,c"}, ["#/trials"]),
        ({"trials": [f"t{place}" for place in range(61)]}, ["#/trials"]),
        ({"element": None, "reference": 3}, ["#/element", "#/reference"]),
        ({"margin": 0, "confidence": 95, "unit": "dB"}, ["#/unit", "#/margin", "#/confidence"]),
    ],
)
def test_bad_input_tells_every_place(client, changes, places):
    assert [fault["pointer"] for fault in faults(client.post(PATH, json=REQUEST | changes))] == places


@pytest.mark.parametrize(("query", "status"), [("?form=junit", 406), ("?paper=a5", 422), ("?x=1", 422)])
def test_what_is_not_made_or_known_is_refused(client, query, status):
    problem(client.post(PATH + query, json=REQUEST), status)


def test_only_json_objects_are_read(client):
    assert client.post(PATH, data=b"x", content_type="text/csv").status_code == 415
    assert client.post(PATH, data=b"{", content_type="application/json").status_code == 400
    assert [fault["pointer"] for fault in faults(client.post(PATH, json=[1]))] == ["#"]
