"""POST /v1/plans with `continues`: a kept trial, a file with its marks, a list of readings."""

import csv
import io
import json

import pytest

from service.api.schemas.plans import TrialPlanSchema
from tests.api.kept_requests import Kept, faults, problem
from tests.api.test_plans import PATH, REQUEST, as_described, changed


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def readings(rounds=1):
    lines = ["element,round,channel,value"]
    lines += [
        f"{element['id']},{number},{channel['id']},{(place + number) % 9}"
        for number in range(1, rounds + 1)
        for place, element in enumerate(REQUEST["trial"]["elements"])
        for channel in REQUEST["trial"]["channels"]
    ]
    return "\n".join(lines).encode()


def test_of_a_kept_trial_only_the_missing_rounds_are_planned(client):
    kept = Kept.new(client, REQUEST["trial"])
    asked = {**{name: REQUEST[name] for name in ("minutes_per_run", "minutes_available")}}
    asked["continues"] = kept.id
    assert client.post(PATH, json=asked).json["rounds"] == 5
    kept.sent(readings(2))
    found = client.post(PATH, json=asked).json
    assert (found["rounds_done"], found["first_round"], found["rounds"]) == (2, 3, 4)
    (fault,) = faults(client.post(PATH, json={**asked, "trial": REQUEST["trial"]}))
    assert fault["pointer"] == "#/trial"
    problem(client.post(PATH, json={**asked, "continues": "0" * 32}), 404)


def with_file(client, body, document, *, name="scan.csv", query=None):
    parts = {
        "readings": (io.BytesIO(body), name, "text/csv"),
        "plan": (io.BytesIO(json.dumps(document).encode()), "plan.json", "application/json"),
    }
    return client.post(PATH, data=parts, content_type="multipart/form-data", query_string=query)


def test_of_a_one_scan_file_or_a_list_of_readings_too(client):
    of_file = with_file(client, readings(), REQUEST)
    assert of_file.status_code == 200, of_file.json
    assert (of_file.json["first_round"], of_file.json["rounds"]) == (2, 5)
    rows = [
        dict(row, round=1, value=int(row["value"]))
        for row in csv.DictReader(io.StringIO(readings().decode()))
    ]
    of_list = client.post(PATH, json=changed(continues=rows))
    assert of_list.json == of_file.json


def test_a_file_with_nothing_but_its_unit_is_planned_from(client):
    question = {"trial": {"meter": {"unit": "bars"}}, "minutes_per_run": 6, "minutes_available": 180}
    found = with_file(client, readings(), question).json
    assert [entry["id"] for entry in found["elements"]] == sorted(
        e["id"] for e in REQUEST["trial"]["elements"]
    )


def marked_file(client, query, document=REQUEST, mark="zz"):
    lines = readings(2).decode().splitlines()
    lines[1] = f"{lines[1].rpartition(',')[0]},{mark}"
    return with_file(client, "\n".join(lines).encode(), document, query=query)


@pytest.mark.parametrize("name", ["nothing_found", "not_scanned"])
def test_marks_of_a_file_that_is_continued_are_understood_when_named(client, name):
    (fault,) = faults(marked_file(client, None))
    assert (fault["row"], fault["given"]) == (2, "zz")
    found = marked_file(client, {name: "zz, n/a"})
    assert found.status_code == 200, found.json
    assert (found.json["rounds_done"], found.json["first_round"]) == (2, 3)


def test_a_mark_with_two_meanings_is_a_fault_of_its_parameter(client):
    told = faults(marked_file(client, {"nothing_found": "zz", "not_scanned": "zz"}))
    assert [fault["parameter"] for fault in told] == ["not_scanned"]


def test_marks_without_a_file_are_refused(client):
    told = faults(client.post(PATH, json=REQUEST, query_string={"nothing_found": "zz"}))
    assert [fault["parameter"] for fault in told] == ["nothing_found"]
    assert "none is sent" in told[0]["detail"]


def scattered(rounds):
    """Readings of which each differs from round to round."""
    heading, *lines = readings(rounds).decode().splitlines()
    rows = [line.rpartition(",")[0] for line in lines]
    filled = [f"{row},{3 + place * place % 7 % 4}" for place, row in enumerate(rows)]
    return "\n".join([heading, *filled]).encode()


def test_the_chance_of_a_verdict_is_as_described_and_in_the_statement(client):
    trial = {**REQUEST["trial"], "planned_rounds": 6}
    found = with_file(client, scattered(3), changed(trial=trial)).json
    as_described(TrialPlanSchema(), found)
    assert [entry["round"] for entry in found["settling"]["by_round"]] == [4, 5, 6]
    assert "Going on from the readings so far, so many of 100 simulated trials come to" in found["statement"]
    assert "Leaving the readings so far aside" in found["statement"]


def test_faults_of_a_file_name_its_lines(client):
    body = readings().replace(b"Holm Light,1", b"Holm Light,x")
    (fault,) = faults(with_file(client, body, REQUEST))
    assert (fault["row"], fault["column"], fault["given"]) == (4, "value", "x")
