"""A design check as plain text: what a terminal or a log shows."""

from collections.abc import Iterator

from reports.checks.view import CheckReport, check_view
from reports.document import Document
from reports.text import plain


def render(document: Document) -> bytes:
    """The outcome in the first line, then the sentences, cautions, and what is not seen; in UTF-8."""
    return ("\n".join(plain(line) for line in _lines(check_view(document))) + "\n").encode("utf-8")


def _lines(report: CheckReport) -> Iterator[str]:
    yield f"Outcome: {report.outcome}"
    yield from (report.statement, *report.findings, "", report.rule)
    for part in report.sections[:2]:
        yield from ("", part.title)
        yield from (f"- {note.severity}: {note.title}. {note.message}" for note in part.notes)
        yield from (f"- {item}" for listing in part.lists for item in listing.items)
    yield from ("", f"{report.check_id}; scans {report.scanned}")
