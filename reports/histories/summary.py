"""A design's history as Markdown that fits a job's summary."""

from reports.document import Document
from reports.findings.finding import as_markdown
from reports.histories.view import history_view
from reports.markdown import without_picture


def render(document: Document) -> bytes:
    """The Markdown of a completed design-history document, in UTF-8; words stand in the picture's place."""
    report = history_view(document, without_picture)
    return as_markdown(report, (report.rule, *report.findings, *(figure.alt for figure in report.figures)))
