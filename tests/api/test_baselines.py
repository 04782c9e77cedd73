"""/v1/baselines: kept by name, dated by their readings, found by their owner alone, used by design checks."""

import json
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from service.api.schemas.baselines import BaselineRequestSchema, BaselineSchema
from service.app import create_app
from service.settings import Settings
from service.storage.tokens import Tokens
from tests.api.kept_requests import WITH_REFERENCE, Kept, faults, problem, scattered_rows

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
PATH = "/v1/baselines"
CHECKS = "/v1/design-checks"


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def kept_trial(client, elements, **told):
    one = Kept.new(client, WITH_REFERENCE)
    one.sent(scattered_rows(elements, **told))
    return one.id


def kept_baseline(client, name, *, trial=None, element="old", **more):
    trial = trial or kept_trial(client, ["brass-3", "old"], day="2026-03-01")
    answer = client.post(PATH, json={"name": name, "trial": trial, "element": element} | more)
    assert answer.status_code == 201, answer.data
    return answer


def test_a_baseline_is_dated_by_the_last_reading_of_its_element(client):
    answer = kept_baseline(client, "first", note="the one with the old joint")
    kept = answer.json
    assert BaselineSchema().validate(kept) == {}
    assert (kept["name"], kept["element"], kept["note"]) == ("first", "old", "the one with the old joint")
    assert (kept["date"], kept["date_from"]) == ("2026-03-01T12:01:00.000000Z", "last reading")
    assert kept["trial_kept"] is True
    assert urlsplit(answer.headers["Location"]).path == f"{PATH}/{kept['id']}"
    shown = client.get(answer.headers["Location"])
    assert (shown.json, shown.headers["ETag"]) == (kept, answer.headers["ETag"])
    unchanged = client.get(answer.headers["Location"], headers={"If-None-Match": shown.headers["ETag"]})
    assert (unchanged.status_code, unchanged.data) == (304, b"")


@pytest.mark.parametrize("sent", [True, False])
def test_without_times_the_date_is_that_of_the_naming(client, sent):
    if sent:
        trial = kept_trial(client, ["brass-3", "old"])
    else:
        trial = Kept.new(client, WITH_REFERENCE | {"elements": [{"id": "old"}]}).id
    kept = kept_baseline(client, f"undated {sent}", trial=trial).json
    assert (kept["date"], kept["date_from"]) == (kept["created_at"], "naming")


def test_the_list_goes_page_by_page_the_newest_first(client):
    trial = kept_trial(client, ["brass-3", "old"])
    names = [kept_baseline(client, f"page {number}", trial=trial).json["name"] for number in range(5)]
    listed, path = [], f"{PATH}?limit=2"
    while path:
        page = client.get(path)
        assert len(page.json["baselines"]) <= 2
        assert (page.json["next"] is None) == ("Link" not in page.headers)
        listed += [one["name"] for one in page.json["baselines"]]
        path = page.json["next"]
    assert listed[:5] == names[::-1]
    assert len(listed) == len(set(listed))
    assert len(client.get(PATH).json["baselines"]) == len(listed)
    assert faults(client.get(f"{PATH}?cursor=x"))[0]["parameter"] == "cursor"


@pytest.mark.parametrize(
    ("body", "places"),
    [
        ({}, ["#/name", "#/trial", "#/element"]),
        ({"name": 3, "trial": "t", "element": "e", "x": 1}, ["#/x", "#/name"]),
        ({"name": " spaced", "trial": "t", "element": "e" * 201}, ["#/name", "#/element"]),
        ({"name": "n", "trial": "t", "element": "e", "note": 7}, ["#/note"]),
        ([], ["#"]),
    ],
)
def test_bad_input_tells_every_place(client, body, places):
    assert [fault["pointer"] for fault in faults(client.post(PATH, json=body))] == places


def test_an_element_that_is_not_there_and_a_name_that_is_taken_are_refused(client):
    trial = kept_trial(client, ["brass-3", "old"])
    (gone,) = faults(client.post(PATH, json={"name": "gone", "trial": trial, "element": "new"}))
    assert (gone["pointer"], gone["given"]) == ("#/element", "new")
    assert "there are brass-3, old" in gone["detail"]
    empty = Kept.new(client, WITH_REFERENCE).id
    (none,) = faults(client.post(PATH, json={"name": "gone", "trial": empty, "element": "old"}))
    assert "none yet; send its readings first" in none["detail"]
    kept_baseline(client, "taken", trial=trial)
    (taken,) = faults(client.post(PATH, json={"name": "taken", "trial": trial, "element": "brass-3"}))
    assert taken["pointer"] == "#/name"
    assert "remove that one first" in taken["detail"]
    problem(client.post(PATH, json={"name": "n", "trial": "0" * 32, "element": "old"}), 404)
    assert client.post(PATH, data="x", content_type="text/csv").status_code == 415


def test_one_is_removed_only_by_who_has_read_it(client):
    path = kept_baseline(client, "short-lived").headers["Location"]
    problem(client.delete(path), 428)
    stale = client.delete(path, headers={"If-Match": '"7"'})
    problem(stale, 412)
    assert stale.headers["ETag"] == client.get(path).headers["ETag"]
    assert client.delete(path, headers={"If-Match": stale.headers["ETag"]}).status_code == 204
    problem(client.get(path), 404)
    problem(client.delete(path, headers={"If-Match": "*"}), 404)
    again = kept_baseline(client, "short-lived").headers["Location"]
    assert client.delete(again, headers={"If-Match": "*"}).status_code == 204


def check(client, name, trial, **more):
    body = {"baseline": {"name": name}, "candidates": [{"trial": trial, "element": "new"}]} | more
    return client.post(CHECKS, json=body)


def test_a_check_asks_for_a_baseline_by_its_name(client):
    kept = kept_baseline(client, "roof whip", note="as sold").json
    now = kept_trial(client, ["brass-3", "new"], day="2026-05-01", shift=0.4)
    by_name = check(client, "roof whip", now)
    assert by_name.status_code == 200, by_name.data
    assert by_name.json["outcome"] == "holds"
    assert by_name.json["baseline_kept_as"] == {
        "name": "roof whip", "date": "2026-03-01T12:01:00.000000Z", "note": "as sold"
    }  # fmt: skip
    plain = client.post(
        CHECKS,
        json={
            "baseline": {"trial": kept["trial"], "element": "old"},
            "candidates": [{"trial": now, "element": "new"}],
        },
    ).json
    assert plain["baseline_kept_as"] is None
    assert plain | {"baseline_kept_as": by_name.json["baseline_kept_as"]} == by_name.json
    page = client.post(
        CHECKS + "?form=html", json={"baseline": {"name": "roof whip"}, "candidates": [
            {"trial": now, "element": "new"}
        ]},
    )  # fmt: skip
    assert "roof whip, of 1 March 2026. as sold" in page.text


def test_an_old_baseline_is_a_warning_that_turns_nothing(client):
    kept_baseline(client, "last year")
    now = kept_trial(client, ["brass-3", "new"], day="2026-12-24")
    found = check(client, "last year", now).json
    (old,) = [caution for caution in found["cautions"] if caution["code"] == "baseline-old"]
    assert (old["severity"], old["evidence"]["bound_days"], found["outcome"]) == ("warning", 180, "holds")
    assert "298 days" in old["message"]


def test_a_baseline_whose_trial_was_removed_says_so_and_what_to_do(client):
    trial = kept_trial(client, ["brass-3", "old"], day="2026-03-01")
    kept = kept_baseline(client, "orphan", trial=trial).json
    now = kept_trial(client, ["brass-3", "new"])
    assert client.delete(f"/v1/trials/{trial}", headers={"If-Match": "*"}).status_code == 204
    shown = client.get(f"{PATH}/{kept['id']}").json
    assert shown == kept | {"trial_kept": False}
    told = problem(check(client, "orphan", now), 404)["detail"]
    assert f"The trial {trial} behind the baseline 'orphan' has been removed" in told
    assert f"Remove the baseline ({kept['id']})" in told


def test_a_name_that_is_not_kept_or_not_well_given_is_told(client):
    now = kept_trial(client, ["brass-3", "new"])
    assert "POST /v1/baselines keeps one" in problem(check(client, "nobody", now), 404)["detail"]
    body = {"baseline": {"name": "", "trial": "t"}, "candidates": [{"trial": now, "element": "new"}]}
    assert [fault["pointer"] for fault in faults(client.post(CHECKS, json=body))] == [
        "#/baseline/trial", "#/baseline/name",
    ]  # fmt: skip


def test_what_one_owner_keeps_is_not_there_for_another(tmp_path):
    app = create_app(Settings(database=f"sqlite:///{tmp_path}/kept.sqlite3", tokens="required"))
    tokens, clients = Tokens(app.database), {}
    for name in ("mine", "theirs"):
        clients[name] = app.test_client()
        secret = tokens.add(name, owner=name, may="write", days=1)
        clients[name].environ_base["HTTP_AUTHORIZATION"] = f"Bearer {secret}"
    trial = kept_trial(clients["mine"], ["brass-3", "old", "new"])
    kept = kept_baseline(clients["mine"], "whip", trial=trial).json
    theirs, path = clients["theirs"], f"{PATH}/{kept['id']}"
    problem(theirs.get(path), 404)
    problem(theirs.delete(path, headers={"If-Match": "*"}), 404)
    problem(theirs.post(PATH, json={"name": "whip", "trial": trial, "element": "old"}), 404)
    problem(check(theirs, "whip", trial), 404)
    assert theirs.get(PATH).json["baselines"] == []
    own = kept_trial(theirs, ["brass-3", "old"])
    assert kept_baseline(theirs, "whip", trial=own).json["trial"] == own
    assert clients["mine"].get(path).json == kept
    app.close()


def test_the_examples_are_kept_and_checked_as_described(client):
    request = json.loads((EXAMPLES / "baseline-request.json").read_text(encoding="utf-8"))
    assert BaselineRequestSchema().validate(request) == {}
    then = kept_trial(client, ["brass-3", request["element"]])
    now = kept_trial(client, ["brass-3", "whip-new-joint"])
    assert client.post(PATH, json=request | {"trial": then}).status_code == 201
    body = json.loads((EXAMPLES / "design-check-named-request.json").read_text(encoding="utf-8"))
    assert body["baseline"] == {"name": request["name"]}
    body["candidates"] = [one | {"trial": now} for one in body["candidates"]]
    assert client.post(CHECKS, json=body).status_code == 200
