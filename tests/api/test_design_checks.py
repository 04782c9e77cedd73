"""POST /v1/design-checks: one shot in every format, kept trials, every form, every refusal."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from service.api.schemas.design_checks import (
    DesignCheckRequestSchema,
    DesignCheckSchema,
    KeptDesignCheckRequestSchema,
)
from tests.api.kept_requests import WITH_REFERENCE, Kept, faults, problem, scattered_rows
from tests.intake.made_workbooks import XLSX, workbook

OPENAPI = Path(__file__).parents[2] / "openapi"
EXAMPLES = OPENAPI / "examples"
SCHEMA = json.loads((OPENAPI / "design-check.schema.json").read_text(encoding="utf-8"))
REQUEST = json.loads((EXAMPLES / "design-check-request.json").read_text(encoding="utf-8"))
TABLE = (EXAMPLES / "design-check.csv").read_text(encoding="utf-8")
PATH = "/v1/design-checks"
FIELDS = "?unit=bars&highest=10&resolution=0.1&margin=0.5&planned_rounds=6"
NAMES = "&baseline=whip-brass&candidate=whip-new-joint&candidate=whip-thin"


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def answer_of(client, body, query="", kind="application/json"):
    content = json.dumps(body) if isinstance(body, dict) else body
    return client.post(PATH + query, data=content, content_type=kind)


def told(answer):
    assert answer.status_code == 200, answer.data
    return [(check["candidate"], check["outcome"], check["difference"]) for check in answer.json["checks"]]


@pytest.fixture(scope="module")
def from_json(client):
    return answer_of(client, REQUEST)


def test_the_example_is_as_described_and_answered(from_json):
    assert DesignCheckRequestSchema().validate(REQUEST) == {}
    outcomes = [(name, outcome) for name, outcome, _ in told(from_json)]
    assert outcomes == [("whip-new-joint", "holds"), ("whip-thin", "falls short")]
    assert from_json.json["outcome"] == "falls short"
    assert set(from_json.json) == set(DesignCheckSchema().fields) == set(SCHEMA["properties"])


BOOK = workbook(
    [[float(cell) if cell.replace(".", "").isdigit() else cell for cell in line.split(",")]
     for line in TABLE.splitlines()]
)  # fmt: skip


@pytest.mark.parametrize(
    "sent",
    [
        (TABLE, FIELDS + NAMES, "text/csv"),
        (TABLE, FIELDS + "&baseline=whip-brass&candidate=whip-new-joint,whip-thin", "text/csv"),
        ("\n".join(map(json.dumps, REQUEST["readings"])), FIELDS + NAMES, "application/x-ndjson"),
        (BOOK, FIELDS + NAMES, XLSX),
        ({"trial": REQUEST["trial"], "readings": REQUEST["readings"]}, "?" + NAMES[1:], "application/json"),
    ],
)
def test_the_same_readings_in_any_format_say_the_same(client, from_json, sent):
    assert told(answer_of(client, *sent)) == told(from_json)


@pytest.mark.parametrize(
    ("form", "kind", "start"),
    [
        ("html", "text/html; charset=utf-8", b"<!DOCTYPE html>"),
        ("pdf", "application/pdf", b"%PDF-"),
        ("junit", "application/xml", b"<?xml"),
        ("markdown", "text/markdown; charset=utf-8", b"### falls short: "),
        ("text", "text/plain; charset=utf-8", b"Outcome: falls short\n"),
    ],
)
def test_every_form_is_made(client, form, kind, start):
    answer = answer_of(client, REQUEST, f"?form={form}")
    assert (answer.status_code, answer.content_type) == (200, kind)
    assert answer.data.startswith(start)
    assert (answer.headers["Vary"], answer.headers["X-Outcome"]) == ("Accept", "falls short")
    by_accept = client.post(PATH, json=REQUEST, headers={"Accept": kind.split(";")[0]})
    assert by_accept.data == answer.data


def test_the_option_turns_skipped_into_failed(client):
    short = REQUEST | {"readings": [row for row in REQUEST["readings"] if row["round"] < 4]}
    for query, failures in (("", "0"), ("&needs_more_runs_fails=true", "2")):
        root = ElementTree.fromstring(answer_of(client, short, f"?form=junit{query}").data)  # noqa: S314 (our own)
        assert root.get("failures") == failures
    assert (
        faults(answer_of(client, short, "?needs_more_runs_fails=yes"))[0]["parameter"]
        == "needs_more_runs_fails"
    )


def test_samples_of_one_design_are_given_as_a_list_or_by_the_parameter(client):
    names = ["whip-new-joint", "whip-thin"]
    for body, query in (
        (REQUEST | {"candidates": [names]}, ""),
        (REQUEST | {"candidates": [], "samples": [names]}, ""),
        (
            {name: REQUEST[name] for name in ("trial", "readings")},
            f"?baseline=whip-brass&samples={','.join(names)}",
        ),
    ):
        answer = answer_of(client, body, query)
        assert told(answer)[0][:2] == ("whip-new-joint + whip-thin", "needs more runs")
        assert answer.json["checks"][0]["samples"] == names


@pytest.mark.parametrize(
    "case",
    [
        (
            REQUEST | {"baseline": 7, "candidates": "x"},
            "",
            "application/json",
            ["#/baseline", "#/candidates"],
        ),
        (REQUEST | {"candidates": ["gone"]}, "", "application/json", ["#/candidates/0"]),
        (
            REQUEST | {"candidates": [["a", 3], []]},
            "",
            "application/json",
            ["#/candidates/0/1", "#/candidates/1"],
        ),
        (REQUEST, "?" + NAMES[1:], "application/json", ["baseline"]),
        (TABLE, FIELDS, "text/csv", ["baseline", "candidate"]),
        (TABLE, FIELDS + "&baseline=whip-brass&candidate=gone", "text/csv", ["candidate"]),
        (TABLE, FIELDS + NAMES + "&margin=1", "text/csv", ["margin"]),
        (REQUEST | {"readings": 3, "baseline": None}, "", "application/json", ["#/baseline", "#/readings"]),
    ],
)
def test_bad_input_tells_every_place(client, case):
    *sent, places = case
    found = faults(answer_of(client, *sent))
    assert [fault.get("parameter") or fault["pointer"] for fault in found] == places


def kept_trial(client, elements, *, meter=None, **told):
    one = Kept.new(client, WITH_REFERENCE | ({"meter": meter} if meter else {}))
    one.sent(scattered_rows(elements, **told))
    return one.id


def test_kept_trials_are_joined_by_their_reference(client):
    then = kept_trial(client, ["brass-3", "old"])
    now = kept_trial(client, ["brass-3", "new"], shift=0.4)
    body = {"baseline": {"trial": then, "element": "old"}, "candidates": [{"trial": now, "element": "new"}]}
    assert KeptDesignCheckRequestSchema().validate(body) == {}
    answer = answer_of(client, body)
    assert [entry[:2] for entry in told(answer)] == [("new", "holds")]
    assert (answer.json["reference"], answer.json["margin_from"]) == ("brass-3", "trial")
    assert [trial["id"] for trial in answer.json["trials"]] == [then, now]
    asked = answer_of(client, body | {"margin": 0.2}).json
    assert (asked["margin"], asked["margin_from"]) == (0.2, "question")
    same = {
        "baseline": {"trial": then, "element": "old"},
        "candidates": [{"trial": then, "element": "brass-3"}],
    }
    assert answer_of(client, same).json["design"] == "one trial"


def test_kept_trials_that_are_not_there_or_not_alike_are_refused(client):
    then = kept_trial(client, ["brass-3", "old"])
    other = kept_trial(client, ["brass-3", "new"], meter={"unit": "dB"})
    body = {
        "baseline": {"trial": then, "element": "old"},
        "candidates": [{"trial": "0" * 32, "element": "new"}],
    }
    problem(answer_of(client, body), 404)
    body["candidates"][0]["trial"] = other
    assert {fault["pointer"] for fault in faults(answer_of(client, body))} == {"#/candidates/0/element"}
    wrong = {"baseline": {"trial": then, "element": "old", "x": 1}, "candidates": [7], "margin": -1, "y": 2}
    assert [fault["pointer"] for fault in faults(answer_of(client, wrong))] == [
        "#/y", "#/baseline/x", "#/candidates/0", "#/margin",
    ]  # fmt: skip
    assert faults(answer_of(client, body, "?unit=bars"))[0]["parameter"] == "unit"


def test_the_kept_example_is_as_described():
    example = json.loads((EXAMPLES / "design-check-kept-request.json").read_text(encoding="utf-8"))
    assert KeptDesignCheckRequestSchema().validate(example) == {}


def test_the_example_of_samples_is_as_described_and_answered(client):
    example = json.loads((EXAMPLES / "design-check-samples-request.json").read_text(encoding="utf-8"))
    assert DesignCheckRequestSchema().validate(example) == {}
    answer = answer_of(client, example)
    assert [entry[:2] for entry in told(answer)] == [("batch-1 + batch-2 + batch-3", "holds")]
    assert answer.json["checks"][0]["method"] == "Banerjee, over samples"


def test_every_example_is_named_where_the_route_is_described(client):
    described = client.get("/v1/openapi.json").json["paths"]
    bodies = [described[path]["post"]["requestBody"]["description"] for path in (PATH, "/v1/baselines")]
    files = {
        file.name for pattern in ("design-check-*.json", "baseline-*.json") for file in EXAMPLES.glob(pattern)
    }
    assert files == {
        word.strip(",.")
        for body in bodies
        for word in body.replace("openapi/examples/", "").split()
        if ".json" in word
    }


@pytest.mark.parametrize(("query", "status"), [("?form=card", 406), ("?paper=a5", 422), ("?x=1", 422)])
def test_what_is_not_made_or_known_is_refused(client, query, status):
    problem(answer_of(client, REQUEST, query), status)


def test_only_known_media_types_are_read(client):
    assert answer_of(client, "x", "", "text/plain").status_code == 415
    assert answer_of(client, "{", "", "application/json").status_code == 400
