"""A design's history as plain text: what a terminal or a log shows."""

from collections.abc import Iterator

from reports.document import Document
from reports.finding import Finding, ending_as_text
from reports.histories.view import history_view
from reports.language import say
from reports.markdown import without_picture
from reports.text import plain


def render(document: Document) -> bytes:
    """The outcome in the first line, then sentences, trials by date, cautions, what is not seen; in UTF-8."""
    lines = _lines(history_view(document, without_picture))
    return ("\n".join(plain(line) for line in lines) + "\n").encode("utf-8")


def _lines(report: Finding) -> Iterator[str]:
    yield say("Outcome: {outcome}", outcome=report.outcome)
    yield from (report.statement, *report.findings, "", report.rule)
    for one in report.tables:
        yield from ("", one.caption)
        for row in one.rows:
            cells = "; ".join(f"{cell.heading} {cell.text}" for cell in row.cells)
            yield f"- {row.head.text}: {cells}"
    yield from ending_as_text(report)
