"""Reports: a PDF with its pictures against the same without, and the largest trial as PDF and as HTML.

The invented trial of the report tests (a PDF of some pages), and 64 elements x 6 rounds x 400 channels whose
names are as long as names may be.

python -m tests.benchmarks.report_speed
"""

import io
from collections.abc import Iterator
from functools import partial
from time import process_time
from unittest.mock import patch

import pikepdf

import reports
from reports import pdf
from reports.charts.pictures import Picture
from reports.view.model import Image
from tests.benchmarks.figures import Figure, in_turn, show
from tests.reports import sample_documents as samples
from tests.reports.sample_parts import trial_document

PICTURES_BAR, LARGEST_BAR, PAGES_BAR, HTML_BAR = 1.7, 25.0, 30.0, 10.0
ELEMENTS, CHANNELS, LONGEST = 64, 400, 200
TIMES = 5
BLANK = "data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg' width='1' height='1'/>"


def blank(_picture: Picture) -> Image:
    """Stands for a picture and costs nothing."""
    return Image(BLANK, ())


def without_pictures(document: samples.Document) -> None:
    """The PDF of a document with nothing drawn."""
    with patch.object(pdf, "draw", blank):
        reports.render(document, "pdf")


def largest() -> samples.Document:
    """A trial at the limit of elements, with names at the limit of text."""
    names = [f"element {n} ".ljust(LONGEST, "x") for n in range(ELEMENTS)]
    trial = trial_document(elements=names, channels=CHANNELS)
    trial["reference"] = None
    values = samples.readings([0.02 * n for n in range(ELEMENTS)], rounds=6, channels=CHANNELS)
    return samples.document(trial, values)


def once(document: samples.Document, form: str) -> tuple[float, bytes]:
    """Processor seconds of one report, and the report."""
    start = process_time()
    made = reports.render(document, form)
    return process_time() - start, made


def figures() -> Iterator[Figure]:
    """The ratio, then time and pages of the largest trial."""
    usual = samples.six_elements()
    works = (partial(reports.render, usual, "pdf"), partial(without_pictures, usual))
    with_pictures, bare = in_turn(*works, times=TIMES)
    work = f"PDF of {pages(reports.render(usual, 'pdf'))} pages"
    yield Figure(work, "the same without its pictures", with_pictures / bare, PICTURES_BAR)
    document, size = largest(), f"{ELEMENTS} elements x 6 rounds x {CHANNELS} channels"
    taken, made = once(document, "pdf")
    yield Figure(f"{size} as PDF, processor time", "-", taken, LARGEST_BAR, "s")
    yield Figure("its pages", "-", pages(made), PAGES_BAR, "pages")
    yield Figure("the same as HTML, processor time", "-", once(document, "html")[0], HTML_BAR, "s")


def pages(pdf_file: bytes) -> int:
    """How many pages it has."""
    with pikepdf.open(io.BytesIO(pdf_file)) as opened:
        return len(opened.pages)


if __name__ == "__main__":
    show(figures())
