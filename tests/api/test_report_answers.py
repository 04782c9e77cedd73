"""Reports as answers: media types, names, and a policy that lets only a page's own styles through."""

import base64
import hashlib

import pytest

from service.api.report_answers import page_policy
from tests.api.conftest import PAGE


def post(client, query: str = "", **headers):
    return client.post(f"/v1/verdicts{query}", json={}, headers=headers)


def test_the_paper_is_handed_on_and_a4_by_default(client, desk):
    post(client, "?form=pdf")
    post(client, "?form=html&paper=letter")
    assert desk.reports == [("pdf", "a4"), ("html", "letter")]


def test_a_pdf_is_named_by_us(client):
    answer = post(client, Accept="application/pdf")
    assert answer.content_type == "application/pdf"
    assert answer.headers["Content-Disposition"] == 'inline; filename="verdict.pdf"'
    assert answer.data == b"%PDF-1.7"


def test_a_browser_gets_the_page(client):
    answer = post(client, Accept="text/html,application/xhtml+xml,*/*;q=0.8")
    assert answer.content_type == "text/html; charset=utf-8"
    assert answer.data == PAGE


@pytest.mark.parametrize("query", ["", "?form=pdf", "?form=junit", "?nope=1"])
def test_caches_are_told_that_accept_decides(client, query):
    assert post(client, query).headers["Vary"] == "Accept"


def test_the_policy_names_each_style_by_its_digest():
    page = b"<style>a{}</style><STYLE media='print'>b\n{}</STYLE>"
    digests = [base64.b64encode(hashlib.sha256(style).digest()).decode() for style in (b"a{}", b"b\n{}")]
    assert f"style-src 'sha256-{digests[0]}' 'sha256-{digests[1]}';" in page_policy(page)
    assert "style-src 'none'" in page_policy(b"<p>plain</p>")


def test_the_policy_opens_no_outside_origin_and_nothing_inline(client):
    policy = post(client, "?form=html").headers["Content-Security-Policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == rules["frame-ancestors"] == rules["form-action"] == "'none'"
    assert rules["img-src"] == rules["font-src"] == "data:"
    assert "script-src" not in rules
    assert "unsafe-inline" not in policy
    assert "http" not in policy
