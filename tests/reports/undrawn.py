"""The page of a report without its pictures, for tests of its words: to draw them is nearly all its cost.

`test_html` holds it against the page as it is drawn.
"""

from reports import html
from reports.document import Document
from reports.view import report_frame, report_view
from reports.view.model import Image
from reports.wording import worded


def page(document: Document, *, paper: str | None = None) -> str:
    """The page in the spoken locale, each picture an empty one with its alternative text."""
    report = report_view(worded(document), lambda _picture: Image("data:,", ()), html.BOUNDS)
    return html.written(report_frame(report), paper=paper, report=report).decode("utf-8")
