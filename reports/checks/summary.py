"""A design check as Markdown that fits a job's summary."""

from collections.abc import Iterator

from reports.checks.view import CheckReport, check_view
from reports.document import Document
from reports.markdown import escaped, section, table, written


def render(document: Document) -> bytes:
    """The Markdown of a completed design-check document, in UTF-8."""
    return written(_lines(check_view(document)))


def _lines(report: CheckReport) -> Iterator[str]:
    yield f"### {escaped(report.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.statement)}**")
    for text in (*report.findings, report.rule):
        yield from ("", escaped(text))
    for one in report.tables:
        yield from table(one)
    yield ""
    facts = (("Check", report.check_id), ("Scans", report.scanned), ("Issued", report.issued))
    yield from (f"- {term}: {escaped(text)}" for term, text in facts)
    for part in report.sections:
        yield from section(part)
    yield from ("", escaped(report.end))
