"""A design check as Markdown that fits a job's summary."""

from reports.checks.view import check_view
from reports.document import Document
from reports.findings.finding import as_markdown


def render(document: Document) -> bytes:
    """The Markdown of a completed design-check document, in UTF-8."""
    report = check_view(document)
    return as_markdown(report, (*report.findings, report.rule))
