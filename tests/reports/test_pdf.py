"""The PDF: tagged, the same bytes for the same document, our own faces, nothing fetched from outside."""

import builtins
import io
import os
import sys
from pathlib import Path

import pikepdf
import pytest

import reports
from reports import fonts
from reports import pdf as pdf_form
from tests.reports import elsewhere
from tests.reports import sample_documents as samples
from tests.reports.made_once import pages, report
from tests.reports.pdf_tags import nodes, of_kind
from tests.reports.pdf_text import pages_of
from tests.reports.sample_parts import trial_document
from tests.reports.sample_strangers import hostile_document


@pytest.fixture(scope="module")
def opened():
    with pikepdf.open(io.BytesIO(report(samples.six_elements(), "pdf"))) as document:
        yield document


def test_the_document_is_tagged_with_language_and_title(opened):
    assert opened.Root.MarkInfo.Marked
    assert str(opened.Root.Lang) == "en"
    assert str(opened.docinfo["/Title"]) == "Quayside whip trial (invented): clear winner"
    assert opened.Root.ViewerPreferences.DisplayDocTitle
    with opened.open_metadata() as metadata:
        assert metadata.get("pdfuaid:part") == "1"


def test_headings_tables_and_figures_are_tagged_as_such(opened):
    tags = [str(node.S) for node in nodes(opened.Root.StructTreeRoot)]
    assert tags.count("/H1") == 1
    assert tags.count("/H2") >= 10
    assert tags.count("/Figure") == 9
    assert tags.count("/Table") >= 7
    assert tags.count("/TH") > tags.count("/Table")
    assert "/Caption" in tags


def test_every_figure_has_an_alternative_text(opened):
    words = [str(node.get("/Alt", "")) for node in of_kind(opened.Root.StructTreeRoot, "/Figure")]
    assert len(words) == 9
    assert all(len(text) > 40 for text in words)
    assert words[0].startswith(
        "Ranking by average reading in bars, with intervals. 3 mm brass rod: 5.45, leads;"
    )


def test_pages_can_be_reached_by_an_outline(opened):
    with opened.open_outline() as outline:
        assert [item.title for item in outline.root[0].children][:6] == [
            "The answer",
            "How sure this is",
            "How often this tool is wrong",
            "What could be wrong with this trial",
            "What to do next, in rounds and hours",
            "Pair by pair",
        ]


def test_every_embedded_face_is_ours(opened):
    families = {face.family.replace(" ", "-") for face in fonts.FACES}
    seen = set()
    for page in opened.pages:
        for font in page.obj["/Resources"].get("/Font", {}).values():
            name = str(font["/BaseFont"]).lstrip("/").split("+", 1)[1]
            assert any(name.removesuffix("-Bold") == family for family in families), name
            assert "/FontFile2" in font["/DescendantFonts"][0]["/FontDescriptor"]
            seen.add(name)
    assert "DejaVu-Sans" in seen


def test_the_same_document_gives_the_same_bytes():
    assert report(samples.two_elements(), "pdf") == elsewhere.report("pdf")


@pytest.fixture(scope="module")
def undated_on_letter():
    """The report on a trial without times, on the paper that is not the usual one."""
    document = samples.one_element()
    document["provenance"].update(first_at=None, last_at=None)
    with pikepdf.open(io.BytesIO(reports.render(document, "pdf", paper="letter"))) as made:
        yield made


def test_dates_and_identifier_come_from_the_document_and_never_from_the_clock(opened, undated_on_letter):
    assert str(opened.docinfo["/CreationDate"]).startswith("D:20260513164000")
    assert bytes(opened.trailer.ID[0]) == b"AA-4297-8008-97D1"
    assert "/CreationDate" not in undated_on_letter.docinfo


def test_the_clock_is_given_back(monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    with pdf_form._stopped_clock():
        assert os.environ["SOURCE_DATE_EPOCH"] == "0"
    assert "SOURCE_DATE_EPOCH" not in os.environ
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    with pdf_form._stopped_clock():
        assert os.environ["SOURCE_DATE_EPOCH"] == "1700000000"
    assert os.environ["SOURCE_DATE_EPOCH"] == "1700000000"


@pytest.mark.parametrize(
    "address",
    [
        "http://127.0.0.1:9/x.png",
        "https://example.org/x.png",
        "ftp://example.org/x",
        "file:///etc/passwd",
        "file://host/etc/passwd",
        f"file://{Path(reports.__file__).parent}/../pyproject.toml",
        f"file://{Path(reports.__file__).parent}/%2e%2e/pyproject.toml",
    ],
)
def test_rendering_fetches_nothing_outside_the_package(address):
    assert not pdf_form.allowed(address)
    page = f'<html lang="en"><title>t</title><img alt="a" src="{address}">'
    with pytest.raises(PermissionError, match="may not fetch"):
        pdf_form.written(page, style="", identifier=b"x")
    with pytest.raises(PermissionError, match="may not fetch"):
        pdf_form.written(
            page.split("<img", maxsplit=1)[0],
            style=f'@import url("{address}");',
            identifier=b"x",
        )


def test_rendering_may_read_its_own_files_the_faces_and_data():
    assert pdf_form.allowed("data:image/svg+xml;base64,AAAA")
    assert pdf_form.allowed((Path(reports.__file__).parent / "styles" / "print.css").as_uri())
    assert pdf_form.allowed(fonts.regular().as_uri())


def test_without_pango_the_message_says_what_to_install(monkeypatch):
    honest = builtins.__import__

    def without_pango(name, *args, **kwargs):
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")
        return honest(name, *args, **kwargs)

    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)
    monkeypatch.setattr(builtins, "__import__", without_pango)
    with pytest.raises(pdf_form.PdfUnavailable, match=r"apt-get install .*libpango-1\.0-0"):
        reports.render(samples.two_elements(), "pdf")


def test_it_is_on_a4_where_no_other_paper_is_asked_for(opened, undated_on_letter):
    """210 by 297 mm and 8.5 by 11 inches, in points."""
    for made, size in ((opened, (595.3, 841.9)), (undated_on_letter, (612.0, 792.0))):
        for page in made.pages:
            assert [float(end) for end in page.mediabox[2:]] == pytest.approx(size, abs=0.1)


def test_another_paper_is_refused():
    with pytest.raises(ValueError, match="a4 and letter"):
        reports.render(samples.two_elements(), "pdf", paper="a0")


def test_names_of_strangers_are_printed_and_do_nothing():
    made = reports.render(hostile_document(), "pdf")
    text = " ".join(pages_of(made))
    assert "<script>alert(1)</script>" in text
    assert "\x1b" not in text
    with pikepdf.open(io.BytesIO(made)) as opened_again:
        assert "/OpenAction" not in opened_again.Root
        assert set(opened_again.Root.Names.keys()) == {"/Dests"}
        assert all("/Annots" not in page.obj for page in opened_again.pages)


def test_a_large_trial_is_cut_and_says_where_the_rest_is():
    names = [f"element {n}" for n in range(20)]
    trial = trial_document(elements=names, channels=120)
    values = samples.readings([0.1 * n for n in range(20)], rounds=14, channels=120)
    read = pages(samples.document(trial, values))
    text = " ".join(read)
    assert len(read) <= 25
    assert "46 of 190 rows are printed; all of it stands in the CSV form," in text
    assert "46 of 120 rows are printed" in text
    assert "The last 10 of 14 rounds are printed" in text
    assert "10 of 20 elements are printed" in text
    assert "Drawn: 48 of 120 channels, 12 of 20 elements." in text
    assert "12 more stand under “The trial”." in read[0] + read[1]


def test_a_report_of_a_small_trial_has_some_pages():
    assert 6 <= len(pages(samples.db_meter())) <= 9
