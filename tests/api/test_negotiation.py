"""The form of an answer: `?form=`, else Accept, else JSON."""

import pytest
from werkzeug.datastructures import MIMEAccept
from werkzeug.http import parse_accept_header

from service.api.negotiation import VERDICT_FORMS, wanted_form
from service.errors import NotAcceptable

BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,image/webp,*/*;q=0.8"


def wanted(accept: str, form: str | None = None) -> str:
    return wanted_form(form, parse_accept_header(accept, MIMEAccept), VERDICT_FORMS)


@pytest.mark.parametrize(
    ("accept", "form"),
    [
        ("", "json"),
        ("*/*", "json"),
        ("application/*", "json"),
        (BROWSER, "html"),
        ("application/pdf", "pdf"),
        ("application/pdf, */*;q=0.1", "pdf"),
        ("text/html;q=0.2, application/pdf;q=0.3", "pdf"),
        ("application/json;q=0, */*", "html"),
        ("text/csv", "csv"),
        ("text/plain", "summary"),
    ],
)
def test_the_accept_header_decides(accept, form):
    assert wanted(accept) == form


def test_the_query_wins_over_the_header():
    assert wanted("application/json", form="pdf") == "pdf"


@pytest.mark.parametrize(("accept", "form"), [("image/webp", None), ("*/*;q=0", None), ("*/*", "picture")])
def test_what_is_not_made_here_is_refused_with_what_is(accept, form):
    with pytest.raises(NotAcceptable, match=r"json \(application/json\), html \(text/html\), pdf"):
        wanted(accept, form)
