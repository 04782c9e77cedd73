"""Reports as answers: media types, names, and a policy that lets only a page's own styles through."""

import base64
import hashlib

import pytest

from service.api.desk import hand_desk
from service.api.report_answers import page_policy
from service.app import create_app
from service.settings import Settings
from tests.api.conftest import PAGE


def post(client, query: str = "", **headers):
    return client.post(f"/v1/verdicts{query}", json={}, headers=headers)


def test_paper_and_locale_are_handed_on_and_else_those_of_the_setting(client, desk):
    post(client, "?form=pdf")
    post(client, "?form=html&paper=letter&locale=en-DE")
    assert desk.reports == [("pdf", None, "en-GB"), ("html", "letter", "en-DE")]


def test_the_setting_names_the_locale_of_a_request_that_names_none(desk):
    app = create_app(Settings(locale="en-US"))
    hand_desk(app, desk)
    post(app.test_client(), "?form=pdf")
    assert desk.reports == [("pdf", None, "en-US")]


def test_a_locale_that_is_not_known_is_refused_with_those_there_are(client, desk):
    answer = post(client, "?form=pdf&locale=tlh")
    assert answer.status_code == 422
    assert "en-GB, en-US, en-DE" in answer.json["errors"][0]["detail"]
    assert desk.reports == []


@pytest.mark.parametrize(
    ("form", "media_type", "disposition"),
    [
        ("csv", "text/csv; charset=utf-8", 'attachment; filename="verdict.csv"'),
        ("summary", "text/plain; charset=utf-8", 'inline; filename="verdict.txt"'),
        ("markdown", "text/markdown; charset=utf-8", 'inline; filename="verdict.md"'),
    ],
)
def test_texts_have_their_media_type_and_a_name(client, form, media_type, disposition):
    for answer in (post(client, f"?form={form}"), post(client, Accept=media_type.partition(";")[0])):
        assert answer.content_type == media_type
        assert answer.headers["Content-Disposition"] == disposition


def test_a_card_is_a_picture_in_the_shape_that_is_asked_for(client, desk):
    answer = post(client, "?form=card&shape=square")
    assert answer.content_type == "image/png"
    assert answer.headers["Content-Disposition"] == 'inline; filename="verdict.png"'
    assert post(client, Accept="image/png").data == answer.data == b"\x89PNG\r\n"
    assert desk.shapes == ["square", "wide"]


def test_a_shape_that_is_not_known_is_refused_with_those_there_are(client, desk):
    answer = post(client, "?form=card&shape=tall")
    assert answer.status_code == 422
    assert answer.json["errors"][0]["detail"] == "Must be wide or square."
    assert desk.reports == []


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
