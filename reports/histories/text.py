"""A design's history as plain text: what a terminal or a log shows."""

from collections.abc import Iterator

from reports.document import Document
from reports.findings.finding import as_text
from reports.histories.view import history_view
from reports.markdown import without_picture
from reports.view.model import Table


def render(document: Document) -> bytes:
    """The outcome in the first line, then sentences, trials by date, what is not seen, cautions; in UTF-8."""
    report = history_view(document, without_picture)
    return as_text(report, (line for one in report.tables for line in _lines(one)))


def _lines(one: Table) -> Iterator[str]:
    yield from ("", one.caption)
    for row in one.rows:
        cells = "; ".join(f"{cell.heading} {cell.text}" for cell in row.cells)
        yield f"- {row.head.text}: {cells}"
