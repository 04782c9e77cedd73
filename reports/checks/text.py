"""A design check as plain text: what a terminal or a log shows."""

from collections.abc import Iterator

from reports.checks.view import check_view
from reports.document import Document
from reports.finding import Finding, ending_as_text
from reports.language import say
from reports.text import plain


def render(document: Document) -> bytes:
    """The outcome in the first line, then the sentences, cautions, and what is not seen; in UTF-8."""
    return ("\n".join(plain(line) for line in _lines(check_view(document))) + "\n").encode("utf-8")


def _lines(report: Finding) -> Iterator[str]:
    yield say("Outcome: {outcome}", outcome=report.outcome)
    yield from (report.statement, *report.findings, "", report.rule)
    yield from ending_as_text(report)
