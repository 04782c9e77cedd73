"""A design's history as Markdown that fits a job's summary."""

from collections.abc import Iterator

from reports.document import Document
from reports.finding import Finding, ending_as_markdown
from reports.histories.view import history_view
from reports.markdown import escaped, table, without_picture, written


def render(document: Document) -> bytes:
    """The Markdown of a completed design-history document, in UTF-8; words stand in the picture's place."""
    return written(_lines(history_view(document, without_picture)))


def _lines(report: Finding) -> Iterator[str]:
    yield f"### {escaped(report.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.statement)}**")
    for text in (report.rule, *report.findings, *(figure.alt for figure in report.figures)):
        yield from ("", escaped(text))
    for one in report.tables:
        yield from table(one)
    yield from ending_as_markdown(report)
