"""Reports: a PDF with its pictures against the same without, and the largest trial as PDF and as HTML.

The invented trial of the report tests (a PDF of some pages), and 64 elements x 6 rounds x 400 channels whose
names are as long as names may be.

python -m tests.benchmarks.report_speed
"""

import io
from functools import partial
from time import process_time
from unittest.mock import patch

import pikepdf

import reports
from reports import pdf
from reports.charts.pictures import Picture
from reports.view.model import Image
from tests.benchmarks.workload import peak_megabytes, say, seconds
from tests.reports import sample_documents as samples
from tests.reports.sample_parts import trial_document

PICTURES_BAR, LARGEST_BAR, PAGES_BAR, HTML_BAR = 1.7, 25.0, 30.0, 10.0
ELEMENTS, CHANNELS, LONGEST = 64, 400, 200
BLANK = "data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg' width='1' height='1'/>"


def blank(_picture: Picture) -> Image:
    """Stands for a picture and costs nothing."""
    return Image(BLANK, ())


def without_pictures(document: samples.Document) -> None:
    """The PDF of a document with nothing drawn."""
    with patch.object(pdf, "_draw", blank):
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


def main() -> None:
    """Print the ratio, then time, pages and memory of the largest trial."""
    usual = samples.six_elements()
    with_pictures = seconds(partial(reports.render, usual, "pdf"), repeats=5)
    bare = seconds(partial(without_pictures, usual), repeats=5)
    say("PDF with its pictures / without", with_pictures / bare, PICTURES_BAR)
    document = largest()
    taken, made = once(document, "pdf")
    say("PDF of the largest trial", taken, LARGEST_BAR, unit="s")
    with pikepdf.open(io.BytesIO(made)) as opened:
        say("its pages", len(opened.pages), PAGES_BAR, unit="pages")
    say("HTML of the largest trial", once(document, "html")[0], HTML_BAR, unit="s")
    print(f"peak memory: {peak_megabytes():.0f} MB")


if __name__ == "__main__":
    main()
