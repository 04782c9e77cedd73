"""A design check as plain text: what a terminal or a log shows."""

from reports.checks.view import check_view
from reports.document import Document
from reports.findings.finding import as_text


def render(document: Document) -> bytes:
    """The outcome in the first line, then the sentences, what is not seen, and cautions; in UTF-8."""
    return as_text(check_view(document))
