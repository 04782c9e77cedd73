"""What a screen reader finds in the PDFs: the structure tree of report, design check and run sheet."""

import io
import itertools
import re
from collections.abc import Iterator
from functools import cache

import pikepdf
import pytest

from reports.checks import render_check
from reports.plans import render_plan
from tests.reports.conftest import rendered
from tests.reports.made_once import made_once
from tests.reports.pdf_tags import nodes, of_kind
from tests.reports.pdf_text import pages_of
from tests.reports.sample_checks import document as check_document
from tests.reports.sample_plans import made as plan_document

MADE = {
    "report": lambda: rendered("six elements", "pdf"),
    "report of one scan": lambda: rendered("one round", "pdf"),
    "design check": lambda: render_check(check_document({"good": 20.0, "bad": 15.0}), "pdf"),
    "run sheet": lambda: render_plan(plan_document(), "pdf"),
}
WITH_TABLES = ("report", "report of one scan", "design check")


@cache
def made(name: str) -> bytes:
    return made_once("structure", name, make=MADE[name])


@pytest.fixture(params=list(MADE))
def name(request) -> str:
    return request.param


@pytest.fixture
def opened(name) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(made(name))) as document:
        yield document


def tags(opened: pikepdf.Pdf) -> list[str]:
    return [str(node.S) for node in nodes(opened.Root.StructTreeRoot)]


def test_it_is_tagged_with_a_title_shown_and_a_language(opened):
    assert opened.Root.MarkInfo.Marked
    assert str(opened.Root.Lang) == "en"
    assert len(str(opened.docinfo["/Title"])) > 10
    assert opened.Root.ViewerPreferences.DisplayDocTitle
    assert all(str(page.obj["/Tabs"]) == "/S" for page in opened.pages)


def test_headings_begin_with_one_and_skip_no_level(opened):
    levels = [int(tag[2:]) for tag in tags(opened) if re.fullmatch(r"/H[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert len(levels) > 3
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_tables_have_headings_for_their_columns_and_rows(opened, name):
    tables = of_kind(opened.Root.StructTreeRoot, "/Table")
    assert bool(tables) == (name in WITH_TABLES)
    for table in tables:
        rows = of_kind(table, "/TR")
        assert len(rows) > 1
        assert {str(cell.S) for cell in of_kind(rows[0], "/TH", "/TD")} == {"/TH"}
        named = {str(cell.get("/ID", "")) for cell in of_kind(table, "/TH")}
        for row in rows[1:]:
            cells = of_kind(row, "/TH", "/TD")
            assert str(cells[0].S) == "/TH"
            for cell in cells[1:]:
                assert str(cell.S) == "/TD"
                assert {str(one) for one in headers_of(cell)} <= named
                assert headers_of(cell)


def headers_of(cell: pikepdf.Object) -> list[pikepdf.Object]:
    """The headings that a cell names (ISO 32000-1 14.8.5.7, attribute Headers)."""
    given = cell.get("/A", [])
    owners = given if isinstance(given, pikepdf.Array) else [given]
    return [one for owner in owners if "/Headers" in owner for one in owner["/Headers"]]


def test_every_figure_has_words_in_its_place(opened, name):
    figures = of_kind(opened.Root.StructTreeRoot, "/Figure")
    assert bool(figures) == name.startswith("report")
    assert [figure for figure in figures if len(str(figure.get("/Alt", ""))) < 40] == []


def test_all_content_is_tagged_or_marked_as_an_artifact(opened):
    for page in opened.pages:
        open_, bare, tagged = [], 0, 0
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name in {"BDC", "BMC"}:
                open_.append(str(operands[0]))
                tagged += open_[-1] != "/Artifact"
            elif name == "EMC":
                open_.pop()
            elif name in {"Tj", "TJ", "Do"} and not open_:
                bare += 1
        assert bare == 0
        assert tagged > 0


def test_every_page_says_which_it_is_of_how_many(name):
    pages = pages_of(made(name))
    assert pages
    unnumbered = [text for at, text in enumerate(pages, start=1) if f"page {at} of {len(pages)}" not in text]
    assert unnumbered == []


def test_bookmarks_lead_to_every_part(opened):
    with opened.open_outline() as outline:
        assert len(outline.root) == 1
        parts = [entry.title for entry in outline.root[0].children]
    assert len(parts) >= 3
    assert all(parts)
