"""The frame of every page: its headers, its files, its errors, its way in where a token is wanted."""

import gzip
import re

import pytest

from service.pages.answering import SECTIONS

POLICY = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "form-action 'self'",
    "connect-src 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
}
BROWSER = {"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"}


def test_a_page_carries_the_strict_policy(client):
    answer = client.get("/")
    assert set(answer.headers["Content-Security-Policy"].split("; ")) == POLICY
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert answer.headers["Cache-Control"] == "private, no-cache"
    assert "Set-Cookie" not in answer.headers


def test_no_page_holds_style_or_script_of_its_own(client):
    for path, _ in SECTIONS:
        text = client.get(path, headers=BROWSER).get_data(as_text=True)
        assert re.findall(r"<style|\sstyle=|<script(?![^>]*src=)|\son\w+=|javascript:", text) == []


def test_files_are_kept_for_good_under_the_name_of_their_contents(client):
    page = client.get("/").get_data(as_text=True)
    found = re.findall(r'"(/static/[^"]+)"', page)
    assert {path.rpartition("/")[2] for path in found} >= {"report.css", "pages.css", "access.js"}
    for path in found:
        answer = client.get(path)
        assert answer.status_code == 200
        assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        again = client.get(path, headers={"If-None-Match": answer.headers["ETag"]})
        assert (again.status_code, again.data) == (304, b"")
    assert client.get("/static/0123456789abcdef/pages.css").status_code == 404
    assert client.get(found[0].rpartition("/")[0] + "/conftest.py").status_code == 404


def test_the_mark_is_served(client):
    answer = client.get("/favicon.ico")
    assert (answer.status_code, answer.content_type) == (200, "image/x-icon")
    assert answer.data[:4] == b"\0\0\1\0"


def test_what_a_browser_reads_packed_is_packed(client):
    plain = client.get("/")
    packed = client.get("/", headers={"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert "Accept-Encoding" in packed.headers["Vary"]


def test_what_is_not_there_is_a_page_for_browsers_and_a_problem_for_programs(client):
    page = client.get("/nowhere", headers=BROWSER)
    assert (page.status_code, page.mimetype) == (404, "text/html")
    assert "There is nothing at this address" in page.get_data(as_text=True)
    assert client.get("/nowhere").mimetype == "application/problem+json"
    assert client.get("/v1/nowhere", headers=BROWSER).mimetype == "application/problem+json"


FOREIGN = [{"Origin": "https://elsewhere.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "null"}]


@pytest.mark.parametrize("headers", FOREIGN)
def test_a_form_of_another_site_is_refused(client, headers):
    answer = client.post("/verdict", data={"table": "x"}, headers=BROWSER | headers)
    assert (answer.status_code, answer.mimetype) == (403, "text/html")
    assert "another site" in answer.get_data(as_text=True)


def test_a_form_of_our_own_pages_is_let_in_though_its_origin_is_hidden(client):
    own = {"Origin": "null", "Sec-Fetch-Site": "same-origin"}
    assert client.post("/verdict", data={"table": "x"}, headers=BROWSER | own).status_code == 422
