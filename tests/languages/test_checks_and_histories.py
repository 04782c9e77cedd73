"""In another language no form of a design check or a design's history holds an English word but names."""

from xml.etree import ElementTree

import pytest

from reports.checks import render_check
from reports.histories import render_history
from tests.analysis.made_histories import creeping
from tests.languages.reading import in_picture, not_said, read_on
from tests.reports.sample_checks import document as check_document
from tests.reports.sample_histories import document as history_document

CHECKED = {"good": 20.0, "bad": 15.0, "unsure": 19.0}
pytestmark = pytest.mark.usefixtures("spoken")


def shown(content: bytes, form: str) -> str:
    """What a reader of the form reads; of XML what a pipeline shows."""
    if form == "html":
        return read_on(content.decode())
    if form == "junit":
        parts = list(ElementTree.fromstring(content).iter())  # noqa: S314 (our own)
        return " ".join(f"{part.text or ''} {part.get('message', '')}" for part in parts)
    return content.decode()


@pytest.mark.parametrize("form", ["html", "junit", "markdown", "text"])
def test_a_design_check_is_in_the_language(form):
    document = check_document(CHECKED)
    assert not_said(shown(render_check(document, form), form), document) == []


@pytest.mark.parametrize("step", [0.0, 0.8])
@pytest.mark.parametrize("form", ["html", "markdown", "text"])
def test_a_history_is_in_the_language(drawn, form, step):
    document = history_document(creeping(step))
    assert not_said(shown(render_history(document, form), form), document) == []
    assert not_said(" ".join(in_picture(drawn)), document) == []
