"""In another language no form of a report holds an English word, but names and what programs read."""

import io
from xml.etree import ElementTree

import pikepdf
import pytest

import reports
from reports import charts
from reports.text import terminal_lines
from reports.wording import worded
from tests.languages.reading import in_picture, not_said, read_on
from tests.reports.conftest import MAKERS
from tests.reports.pdf_text import pages_of
from tests.reports.sample_situations import SITUATIONS

SAMPLES = {**MAKERS, **SITUATIONS}


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_is_in_the_language(drawn, name):
    document = SAMPLES[name]()
    page = reports.render(document, "html").decode()
    assert '<html lang="qaa">' in page
    assert not_said(read_on(page), document) == []
    assert not_said(" ".join(in_picture(drawn)), document) == []


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("form", ["markdown", "summary"])
@pytest.mark.parametrize("name", SAMPLES)
def test_a_text_is_in_the_language(name, form):
    document = SAMPLES[name]()
    assert not_said(reports.render(document, form).decode(), document) == []


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("name", SAMPLES)
def test_what_a_pipeline_shows_and_a_terminal_is_in_the_language(name):
    document = SAMPLES[name]()
    tree = ElementTree.fromstring(reports.render(document, "junit"))  # noqa: S314 (our own)
    shown = [part.text or "" for part in tree.iter()] + [part.get("message", "") for part in tree.iter()]
    assert not_said(" ".join(shown), document) == []
    lines = terminal_lines(worded(document))
    assert not_said(" ".join(lines), document) == []


@pytest.mark.usefixtures("spoken")
def test_a_pdf_is_in_the_language():
    document = SAMPLES["amended"]()
    made = reports.render(document, "pdf")
    with pikepdf.open(io.BytesIO(made)) as opened:
        assert str(opened.Root.Lang) == "qaa"
        with opened.open_outline() as outline:
            titles = [entry.title for entry in outline.root[0].children]
    assert len(titles) > 5
    left = not_said(" ".join([*titles, *pages_of(made)]), document)
    assert [word for word in left if len(word) > 1] == []  # pictures set their letters one by one


@pytest.mark.usefixtures("spoken")
def test_the_picture_to_show_is_in_the_language(monkeypatch):
    asked = []
    monkeypatch.setattr(charts, "png", lambda picture, **how: asked.extend([picture, how]) or b"")
    document = SAMPLES["clear winner"]()
    reports.render(document, "card")
    picture, how = asked
    assert not_said(" ".join([*in_picture(picture), how["description"]]), document) == []


@pytest.mark.usefixtures("drawn")
def test_an_english_word_would_be_seen():
    document = SAMPLES["clear winner"]()
    found = not_said(read_on(reports.render(document, "html").decode()), document)
    assert {"verdict", "rule", "average"} <= set(found)
    assert "Quayside" not in found
