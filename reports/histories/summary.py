"""A design's history as Markdown that fits a job's summary."""

from collections.abc import Iterator

from reports.document import Document
from reports.histories.view import HistoryReport, history_view
from reports.markdown import escaped, section, table, without_picture, written


def render(document: Document) -> bytes:
    """The Markdown of a completed design-history document, in UTF-8; words stand in the picture's place."""
    return written(_lines(history_view(document, without_picture)))


def _lines(report: HistoryReport) -> Iterator[str]:
    yield f"### {escaped(report.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.statement)}**")
    for text in (report.rule, *report.findings, *(figure.alt for figure in report.figures)):
        yield from ("", escaped(text))
    for one in report.tables:
        yield from table(one)
    yield ""
    facts = (("History", report.history_id), ("Scans", report.scanned), ("Issued", report.issued))
    yield from (f"- {term}: {escaped(text)}" for term, text in facts)
    for part in report.sections:
        yield from section(part)
    yield from ("", escaped(report.end))
