"""A design check as Markdown that fits a job's summary."""

from collections.abc import Iterator

from reports.checks.view import check_view
from reports.document import Document
from reports.finding import Finding, ending_as_markdown
from reports.markdown import escaped, table, written


def render(document: Document) -> bytes:
    """The Markdown of a completed design-check document, in UTF-8."""
    return written(_lines(check_view(document)))


def _lines(report: Finding) -> Iterator[str]:
    yield f"### {escaped(report.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.statement)}**")
    for text in (*report.findings, report.rule):
        yield from ("", escaped(text))
    for one in report.tables:
        yield from table(one)
    yield from ending_as_markdown(report)
