"""Readings out of kept trials: every form can be sent in again, page by page, and runs nothing."""

import json

import pytest

from tests.api.kept_requests import TRIAL, Kept, faults, problem, rows

FORMS = {"json": "application/json", "ndjson": "application/x-ndjson", "csv": "text/csv"}
FULL = (
    b"element,round,channel,rf_channel,at,run,mounting,value\n"
    b"a,1,Quay,27,2026-03-01T10:00:00.25Z,r1,m1,5\n"
    b"a,1,Harbour,27,2026-03-01T11:00:00+01:00,r1,m1,\n"
    b"b,1,Quay,27,2026-03-01T12:00:00Z,r2,m1,7.25\n"
)


@pytest.fixture
def trial(kept_client):
    trial = Kept.new(kept_client)
    trial.sent(rows("ab", (1, 2)))
    trial.sent(rows("a", (2,), value=9), query="?corrects=typo")
    return trial


def followed(trial, path: str) -> tuple[list[bytes], list[int]]:
    """The content of every page, and the number of lines of each."""
    pages = []
    while path:
        answer = trial.client.get(path)
        assert answer.status_code == 200, answer.json
        pages.append(answer.data)
        link = answer.headers.get("Link")
        path = link.partition("; ")[0].strip("<>") if link else None
    return pages, [page.count(b"\n") for page in pages]


@pytest.mark.parametrize(("form", "media_type"), FORMS.items())
def test_a_form_is_asked_for_by_query_or_by_accept(trial, form, media_type):
    by_query = trial.get(f"/readings?form={form}")
    by_accept = trial.client.get(f"{trial.path}/readings", headers={"Accept": media_type})
    assert by_query.data == by_accept.data
    assert by_query.mimetype == media_type
    assert by_query.headers["Vary"] == "Accept"


def test_a_form_that_is_not_made_is_refused_with_those_that_are(trial):
    assert "ndjson" in problem(trial.get("/readings?form=pdf"), 406)["detail"]


@pytest.mark.parametrize("form", FORMS)
def test_pages_hold_every_reading_once(trial, form):
    whole = trial.get(f"/readings?form={form}&limit=100").data
    pages, lines = followed(trial, f"{trial.path}/readings?form={form}&limit=3")
    assert len(pages) == 3
    if form == "json":
        readings = [reading for page in pages for reading in json.loads(page)["readings"]]
        assert readings == json.loads(whole)["readings"]
        assert json.loads(pages[-1])["next"] is None
        assert len(readings) == 8
    elif form == "ndjson":
        assert b"".join(pages) == whole
        assert lines == [3, 3, 2]
    else:
        assert [page.split(b"\r\n")[0] for page in pages] == [b"element,round,channel,value"] * 3
        assert lines == [4, 4, 3]


def test_pages_of_one_export_are_of_one_state(trial):
    first = trial.get("/readings?limit=5").json
    trial.sent(rows("c", (1,)))
    trial.sent(b"", query="?withdraws=1&reason=later")
    rest = trial.client.get(first["next"]).json
    assert rest["next"] is None
    assert len(first["readings"] + rest["readings"]) == 8
    assert len(trial.readings()) == 4


def test_a_cursor_is_good_for_its_own_question_alone(trial, kept_client):
    following = trial.get("/readings?limit=2").json["next"]
    other = Kept.new(kept_client)
    other.sent(rows("ab", (1, 2)))
    for path in (
        following.replace(trial.path, other.path),
        following.replace("limit=2", "limit=3"),
        following.replace("form=json", "form=csv"),
    ):
        assert [fault["parameter"] for fault in faults(trial.client.get(path))] == ["cursor"]


@pytest.mark.parametrize("form", FORMS)
def test_what_was_exported_can_be_sent_in_again(kept_client, form):
    first = Kept.new(kept_client)
    first.sent(FULL)
    content = first.get(f"/readings?form={form}").data
    if form == "json":
        content = json.dumps({"readings": json.loads(content)["readings"]}).encode()
    second = Kept.new(kept_client)
    second.sent(content, kind=FORMS[form])
    assert second.get(f"/readings?form={form}").data == first.get(f"/readings?form={form}").data
    assert second.readings()[0] == {
        "element": "a", "round": 1, "channel": "Quay", "value": 5.0, "rf_channel": "27",
        "at": "2026-03-01T10:00:00.25Z", "run": "r1", "mounting": "m1",
    }  # fmt: skip
    assert [reading["at"] for reading in second.readings()][1:] == [
        "2026-03-01T10:00:00Z",
        "2026-03-01T12:00:00Z",
    ]
    assert second.readings()[1]["value"] is None


@pytest.mark.parametrize("name", ["=1+1", "+x", "-x", "@x", "'=x", "plain"])
def test_no_formula_leaves_and_reading_takes_the_quote_off(kept_client, name):
    """Numbers are no formulas, negative ones neither."""
    document = {"meter": {"unit": "dB"}}
    readings = [{"element": name, "round": 1, "channel": "Quay", "value": -5.5}]
    trial = Kept.new(kept_client, document)
    trial.sent(json.dumps(readings).encode(), kind="application/json")
    content = trial.get("/readings?form=csv").data
    cells = content.decode().splitlines()[1].split(",")
    assert cells == ["plain" if name == "plain" else f"'{name}", "1", "Quay", "-5.5"]
    again = Kept.new(kept_client, document)
    again.sent(content)
    assert again.readings() == trial.readings() == readings


def test_a_trial_without_readings_exports_none(kept_client):
    trial = Kept.new(kept_client, TRIAL)
    assert trial.get("/readings").json == {"readings": [], "next": None}
    assert trial.get("/readings?form=csv").data == b"element,channel,value\r\n"
    assert trial.get("/readings?form=ndjson").data == b""


@pytest.mark.parametrize("query", ["limit=0", "limit=100001", "cursor=abc", "rows=5"])
def test_a_page_that_cannot_be_is_refused(trial, query):
    assert [fault["parameter"] for fault in faults(trial.get(f"/readings?{query}"))] == [query.split("=")[0]]
