"""Kept trials analysed over HTTP: now, later, listed, cancelled, reported on."""

import time
from datetime import datetime

import pytest

from tests.jobs.kept import TRIAL, table

MISSING = "0" * 32


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def kept_trial(client, body: bytes | None = None) -> str:
    trial = client.post("/v1/trials", json=TRIAL).json["id"]
    if body != b"":
        answer = client.post(f"/v1/trials/{trial}/readings", data=body or table(), content_type="text/csv")
        assert answer.status_code == 201, answer.json
    return trial


@pytest.fixture(scope="module")
def trial(client):
    return kept_trial(client)


@pytest.fixture(scope="module")
def done(client, trial):
    answer = client.post(f"/v1/trials/{trial}/analyses")
    assert answer.status_code == 201, answer.json
    return answer


def ended(client, path: str):
    for _ in range(500):
        answer = client.get(path)
        if answer.json["state"] not in {"waiting", "running"}:
            return answer
        assert answer.headers["Retry-After"] == "1"
        time.sleep(0.02)
    raise AssertionError(answer.json)


def test_a_new_analysis_is_made_now_and_found_again(client, trial, done):
    path = done.headers["Location"]
    assert path == f"/v1/analyses/{done.json['id']}"
    assert (done.json["state"], done.json["trial"], done.json["trial_version"]) == ("done", trial, 2)
    assert done.json["analysis"]["format"] == "analysis/1"
    assert done.json["analysis"]["verdict"]["statement"]
    assert done.json["links"] == {
        "self": path,
        "trial": f"/v1/trials/{trial}",
        "report": f"{path}/report",
    }
    assert client.get(path).json == done.json


def test_a_trial_that_has_not_changed_is_not_analysed_again(client, trial, done):
    again = client.post(f"/v1/trials/{trial}/analyses")
    assert (again.status_code, again.json) == (200, done.json)
    later = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
    assert (later.status_code, later.json["id"]) == (200, done.json["id"])
    assert "Preference-Applied" not in later.headers


@pytest.mark.parametrize("prefer", ["respond-async", "Wait=5, respond-async; a=b"])
def test_one_that_may_wait_answers_at_once_and_is_done_later(client, prefer):
    trial = kept_trial(client)
    asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": prefer})
    assert (asked.status_code, asked.json["state"], asked.json["analysis"]) == (202, "waiting", None)
    assert asked.headers["Preference-Applied"] == "respond-async"
    assert asked.headers["Retry-After"] == "1"
    answer = ended(client, asked.headers["Location"])
    assert answer.json["state"] == "done"
    assert "Retry-After" not in answer.headers
    now = client.post(f"/v1/trials/{trial}/analyses")
    assert (now.status_code, now.json) == (200, answer.json)


def test_what_an_analysis_comes_to_stands_in_it_as_a_problem(client):
    trial = kept_trial(client, b"")
    asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
    problem = ended(client, asked.headers["Location"]).json["problem"]
    assert (problem["status"], problem["type"]) == (422, "/v1/problems/bad-input")
    assert problem["errors"][0]["pointer"] == "#/readings"
    now = client.post(f"/v1/trials/{trial}/analyses")
    assert now.status_code == 422
    assert now.json["errors"] == problem["errors"]
    report = client.get(f"{asked.headers['Location']}/report")
    assert (report.status_code, report.content_type) == (409, "application/problem+json")


def test_one_that_is_done_cannot_be_cancelled_and_one_that_waits_can(client, done, monkeypatch):
    refused = client.delete(done.headers["Location"])
    assert refused.status_code == 409
    monkeypatch.setattr(client.application.line, "_at_once", 0)
    trial = kept_trial(client)
    asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
    cancelled = client.delete(asked.headers["Location"])
    assert (cancelled.status_code, cancelled.json["state"]) == (200, "cancelled")
    assert client.get(asked.headers["Location"]).json["state"] == "cancelled"
    again = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
    assert again.json["id"] != asked.json["id"]
    client.delete(again.headers["Location"])


def test_the_list_comes_in_pages_newest_first(client):
    trial = kept_trial(client)
    made = []
    for title in ("One", "Two", "Three"):
        patch = {"title": title}
        assert client.patch(f"/v1/trials/{trial}", json=patch, headers={"If-Match": "*"}).status_code == 200
        made.append(client.post(f"/v1/trials/{trial}/analyses").json["id"])
    first = client.get(f"/v1/trials/{trial}/analyses?limit=2")
    second = client.get(first.json["next"])
    assert first.headers["Link"] == f'<{first.json["next"]}>; rel="next"'
    seen = [entry["id"] for page in (first, second) for entry in page.json["analyses"]]
    assert seen == made[::-1]
    assert second.json["next"] is None
    assert "analysis" not in first.json["analyses"][0]


def test_a_report_comes_in_its_form_and_not_again_while_unchanged(client, done):
    path = f"{done.headers['Location']}/report"
    page = client.get(path, headers={"Accept": "text/html"})
    assert page.content_type == "text/html; charset=utf-8"
    assert page.headers["Vary"] == "Accept"
    assert "style-src" in page.headers["Content-Security-Policy"]
    again = client.get(f"{path}?form=html", headers={"If-None-Match": page.headers["ETag"]})
    assert (again.status_code, again.data, again.headers["ETag"]) == (304, b"", page.headers["ETag"])
    document = client.get(path)
    assert document.json == done.json["analysis"]
    other = client.get(f"{path}?form=json", headers={"If-None-Match": page.headers["ETag"]})
    assert other.status_code == 200
    square = client.get(f"{path}?form=card&shape=square", headers={"If-None-Match": page.headers["ETag"]})
    assert (square.status_code, square.content_type) == (200, "image/png")
    wide = client.get(f"{path}?form=card", headers={"If-None-Match": square.headers["ETag"]})
    assert wide.status_code == 200
    assert wide.data != square.data
    letter = client.get(f"{path}?form=html&paper=letter", headers={"If-None-Match": page.headers["ETag"]})
    assert letter.status_code == 200
    assert client.get(f"{path}?form=poem").status_code == 406


def test_a_report_is_dated_by_its_analysis_and_not_by_the_clock(client, done, monkeypatch):
    from service.jobs import kept_analyses

    rendered, seen = kept_analyses.rendered, []
    monkeypatch.setattr(
        kept_analyses,
        "rendered",
        lambda document, *rest, **wish: seen.append(document) or rendered(document, *rest, **wish),
    )
    page = client.get(f"{done.headers['Location']}/report?form=html").get_data(as_text=True)
    assert seen[0]["provenance"]["issued_at"] == done.json["finished_at"]
    finished = datetime.fromisoformat(done.json["finished_at"])
    assert f"<dt>Issued</dt><dd>{finished.day} {finished:%B} {finished.year}</dd>" in page


def test_a_report_comes_as_tables_as_words_and_in_a_locale(client, done):
    path = f"{done.headers['Location']}/report"
    tables = client.get(f"{path}?form=csv")
    assert tables.content_type == "text/csv; charset=utf-8"
    assert tables.data.startswith(b"\xef\xbb\xbffacts,fact,value")
    words = client.get(path, headers={"Accept": "text/plain"})
    assert 60 <= len(words.get_data(as_text=True).split()) <= 95
    page = client.get(f"{path}?form=html")
    comma = client.get(f"{path}?form=html&locale=en-DE", headers={"If-None-Match": page.headers["ETag"]})
    assert comma.status_code == 200
    assert comma.data != page.data
    again = client.get(f"{path}?form=html&locale=en-GB", headers={"If-None-Match": page.headers["ETag"]})
    assert again.status_code == 304


def test_how_an_analysis_stands_has_a_tag(client, done):
    answer = client.get(done.headers["Location"])
    again = client.get(done.headers["Location"], headers={"If-None-Match": answer.headers["ETag"]})
    assert again.status_code == 304


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", f"/v1/trials/{MISSING}/analyses"),
        ("GET", f"/v1/trials/{MISSING}/analyses"),
        ("GET", f"/v1/analyses/{MISSING}"),
        ("DELETE", f"/v1/analyses/{MISSING}"),
        ("GET", f"/v1/analyses/{MISSING}/report"),
        ("GET", f"/v1/analyses/{MISSING}/report?form=html"),
    ],
)
def test_what_is_not_there_is_told(client, method, path):
    answer = client.open(path, method=method)
    assert (answer.status_code, answer.content_type) == (404, "application/problem+json")


@pytest.mark.parametrize("query", ["limit=0", "limit=201", "cursor=abc", "page=2"])
def test_a_bad_page_is_refused(client, trial, query):
    answer = client.get(f"/v1/trials/{trial}/analyses?{query}")
    assert answer.status_code == 422
    assert answer.json["errors"][0]["parameter"] == query.split("=")[0]


def test_a_body_is_refused(client, trial):
    answer = client.post(f"/v1/trials/{trial}/analyses", json={"margin": 1})
    assert answer.status_code == 400
    assert "takes no body" in answer.json["detail"]
