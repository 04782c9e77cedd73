"""Kept trials over HTTP, on both kinds of database: made, found, listed, changed, removed."""

import re

import pytest

from service.app import create_app
from service.settings import Settings
from tests.api.kept_requests import TRIAL, Kept, faults, problem, rows

MISSING = "/v1/trials/" + "0" * 32


@pytest.fixture
def trial(kept_client):
    return Kept.new(kept_client)


def test_a_trial_is_kept_as_it_was_given(kept_client):
    answer = kept_client.post("/v1/trials", json=TRIAL)
    assert (answer.status_code, answer.headers["ETag"]) == (201, '"1"')
    assert re.fullmatch("[0-9a-f]{32}", answer.json["id"])
    assert answer.headers["Location"] == f"/v1/trials/{answer.json['id']}"
    found = kept_client.get(answer.headers["Location"])
    assert found.json == answer.json
    assert found.headers["ETag"] == '"1"'
    assert {name: found.json[name] for name in TRIAL} == TRIAL
    assert found.json["kept"]["history"] is None


def test_a_trial_that_has_not_changed_is_not_sent_again(trial):
    assert trial.client.get(trial.path, headers={"If-None-Match": '"1"'}).status_code == 304
    assert trial.client.get(trial.path, headers={"If-None-Match": '"2"'}).status_code == 200


def test_faults_of_a_document_are_placed_in_it(kept_client):
    body = {"meter": {"unit": "feet"}, "confidence": 95, "colour": "red"}
    places = {fault["pointer"] for fault in faults(kept_client.post("/v1/trials", json=body))}
    assert places == {"#/meter/unit", "#/confidence", "#/colour"}
    assert [fault["pointer"] for fault in faults(kept_client.post("/v1/trials", json=[]))] == ["#"]
    problem(kept_client.post("/v1/trials", data=b"{", content_type="application/json"), 400)
    assert kept_client.post("/v1/trials", data=b"a", content_type="text/csv").headers["Accept-Post"] == (
        "application/json"
    )


def test_what_it_refers_to_may_come_later(kept_client):
    trial = Kept.new(kept_client, TRIAL | {"reference": "brass", "struck": [
        {"element": "brass", "round": 3, "reason": "gust"}
    ]})  # fmt: skip
    trial.sent(rows("a"))


def test_the_list_comes_in_pages_that_follow_each_other(database_url):
    """In an application of its own database's newest trials, so that others' do not stand between."""
    app = create_app(Settings(database=database_url))
    client = app.test_client()
    made = [Kept.new(client, TRIAL | {"title": f"t{index}"}).id for index in range(5)]
    found, path = [], "/v1/trials?limit=2"
    while path and len(found) < 5:
        answer = client.get(path)
        found += [entry["id"] for entry in answer.json["trials"]]
        path = answer.json["next"]
        assert answer.headers.get("Link") == (f'<{path}>; rel="next"' if path else None)
    assert found[:5] == made[::-1]
    app.close()
    app.database.close()


@pytest.mark.parametrize("query", ["cursor=xyz", "cursor=W10", "limit=0", "limit=201", "limit=x", "page=2"])
def test_a_page_that_cannot_be_is_refused(kept_client, query):
    (fault,) = faults(kept_client.get(f"/v1/trials?{query}"))
    assert fault["parameter"] == query.split("=")[0]


def test_a_cursor_is_good_for_its_own_question_alone(kept_client):
    for _ in range(3):
        Kept.new(kept_client)
    following = kept_client.get("/v1/trials?limit=1").json["next"]
    assert kept_client.get(following).status_code == 200
    (fault,) = faults(kept_client.get(following.replace("limit=1", "limit=2")))
    assert fault["parameter"] == "cursor"


def test_a_change_needs_the_version_that_it_changes(trial):
    assert "If-Match" in problem(trial.client.patch(trial.path, json={"title": "x"}), 428)["detail"]
    assert problem(trial.patch({"title": "x"}, '"9"'), 412)
    assert problem(trial.patch({"title": "x"}, '"nothing"'), 412)
    changed = trial.patch({"title": "x"}, '"1"')
    assert (changed.status_code, changed.headers["ETag"], changed.json["title"]) == (200, '"2"', "x")
    stale = trial.patch({"title": "y"}, '"1"')
    assert problem(stale, 412)
    assert stale.headers["ETag"] == '"2"'
    assert trial.patch({"title": "y"}).json["title"] == "y"


def test_a_change_that_changes_nothing_keeps_the_version(trial):
    assert trial.patch({"title": TRIAL["title"]}).headers["ETag"] == '"1"'


def test_a_merge_patch_replaces_takes_out_and_goes_inside(trial):
    kind = "application/merge-patch+json"
    body = b'{"title": null, "meter": {"resolution": 0.5}, "elements": [{"id": "a"}]}'
    answer = trial.client.patch(trial.path, data=body, content_type=kind, headers={"If-Match": "*"})
    assert answer.status_code == 200, answer.json
    assert "title" not in answer.json
    assert answer.json["meter"] == {"unit": "bars", "highest": 10, "resolution": 0.5}
    assert answer.json["elements"] == [{"id": "a"}]


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"colour": 1}, "#/colour"),
        ({"id": "x"}, "#/id"),
        ({"margin": -1}, "#/margin"),
        ({"meter": None}, "#/meter"),
        ({"reason": 5}, "#/reason"),
        ({"reason": ""}, "#/reason"),
        ([], "#"),
    ],
)
def test_a_patch_with_faults_changes_nothing(trial, change, pointer):
    assert pointer in [fault["pointer"] for fault in faults(trial.patch(change))]
    assert trial.get().headers["ETag"] == '"1"'


def test_before_the_first_readings_the_plan_is_free(trial):
    assert trial.patch({"margin": 2, "planned_rounds": 9}).status_code == 200
    trial.sent()
    history = trial.get().json["kept"]["history"]
    assert history["first_plan"] == {
        "margin": 2.0, "confidence": 0.95, "planned_rounds": 9, "looks": "every round", "reference": None
    }  # fmt: skip
    assert history["changes"] == []


@pytest.mark.parametrize(
    ("change", "before"),
    [
        ({"margin": 0.25}, {"margin": 0.5}),
        ({"confidence": 0.9}, {"confidence": 0.95}),
        ({"planned_rounds": 8}, {"planned_rounds": 6}),
        ({"looks": "planned end"}, {"looks": "every round"}),
        ({"reference": "a"}, {"reference": None}),
        ({"struck": [{"element": "a", "round": 1, "reason": "gust"}]}, {"struck": []}),
        ({"seed": 7}, {"seed": 1}),
        ({"meter": {"resolution": 0.5}}, {"resolution": 1.0}),
        ({"elements": [{"id": "b", "twin_of": "a"}]}, {"roles": {}}),
        ({"channels": [{"id": "Quay", "rf_channel": "27"}]}, {"rf_channels": {}}),
    ],
)
def test_what_moves_a_verdict_changes_only_with_a_reason_which_is_kept(trial, change, before):
    trial.sent()
    assert all("reason" in fault["detail"] for fault in faults(trial.patch(change)))
    answer = trial.patch(change | {"reason": "seen late"})
    assert answer.status_code == 200, answer.json
    (kept,) = answer.json["kept"]["history"]["changes"]
    assert (kept["reason"], kept["before"]) == ("seen late", before)
    assert kept["after"] != before
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT[\d:.]+Z", kept["at"])
    assert "reason" not in answer.json


@pytest.mark.parametrize(
    "change",
    [
        {"title": "other"},
        {"elements": [{"id": "c", "twin_of": "a"}, {"id": "a", "cost": {"amount": 4, "currency": "EUR"}}]},
        {"site": "upper floor"},
        {"meter": {"needed": None}},
    ],
)
def test_what_moves_no_verdict_changes_without(trial, change):
    trial.sent()
    answer = trial.patch(change)
    assert answer.status_code == 200, answer.json
    assert answer.json["kept"]["history"]["changes"] == []


@pytest.mark.parametrize("meter", [{"unit": "percent"}, {"highest": 12}, {"lowest": -1}])
def test_the_meter_of_readings_stays(trial, meter):
    trial.sent()
    told = faults(trial.patch({"meter": meter, "reason": "wrong"}))
    assert told[0]["pointer"].startswith("#/meter/")
    assert trial.send(b"", query="?withdraws=1&reason=wrong").status_code == 201
    assert trial.patch({"meter": meter, "margin": 0.5, "reason": "wrong"}).status_code == 200


def test_a_trial_is_removed_with_all_that_belongs_to_it(trial):
    trial.sent()
    assert problem(trial.client.delete(trial.path), 428)
    assert problem(trial.client.delete(trial.path, headers={"If-Match": '"1"'}), 412)
    answer = trial.client.delete(trial.path, headers={"If-Match": '"2"'})
    assert (answer.status_code, answer.data) == (204, b"")
    for path in (trial.path, f"{trial.path}/readings"):
        assert problem(trial.client.get(path), 404)


@pytest.mark.parametrize("tail", ["", "/readings"])
def test_what_is_not_there_is_not_found(kept_client, tail):
    assert "GET /v1/trials" in problem(kept_client.get(MISSING + tail), 404)["detail"]
    assert problem(kept_client.post(f"{MISSING}/readings", data=rows(), content_type="text/csv"), 404)
    assert problem(kept_client.patch(MISSING, json={}, headers={"If-Match": "*"}), 404)
    assert problem(kept_client.delete(MISSING, headers={"If-Match": "*"}), 404)


def test_owners_do_not_see_one_another(kept_client, monkeypatch):
    trial = Kept.new(kept_client)
    trial.sent()
    for module in ("trials", "kept_readings"):
        monkeypatch.setattr(f"service.api.{module}.owner", lambda: "somebody else")
    assert problem(trial.get(), 404)
    assert problem(trial.get("/readings"), 404)
    assert problem(trial.send(rows(rounds=(9,))), 404)
    assert problem(trial.send(rows(rounds=(9,)), key="k"), 404)
    assert problem(trial.patch({"title": "mine"}), 404)
    assert problem(trial.client.delete(trial.path, headers={"If-Match": "*"}), 404)
    listed = kept_client.get("/v1/trials").json["trials"]
    assert trial.id not in [entry["id"] for entry in listed]
