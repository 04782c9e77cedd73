"""Plan documents as a run sheet (page or PDF) and as tables to fill in (CSV, XLSX).

As for verdicts the document is all that is known here; its sentences were filled in by `reports.wording`.
"""

from typing import Final

from reports import document as doc

PLAN_FORMS: Final = ("csv", "xlsx", "html", "pdf", "text")
MOST_BOXES: Final = 4_000
"""Boxes for readings that a run sheet holds; more would be a book."""
BLANK_BOXES: Final = 16
"""Boxes of a run where the trial names no channels."""


def render_plan(document: doc.Document, form: str, *, paper: str | None = None) -> bytes:
    """A completed plan document in one of `PLAN_FORMS`.

    ValueError for another form or paper; `reports.pdf.PdfUnavailable` where the system library is missing.
    """
    if form in {"html", "pdf"}:
        from reports.plans import sheet

        return sheet.html(document, paper=paper) if form == "html" else sheet.pdf(document, paper=paper)
    if form == "csv":
        from reports.plans import delimited

        return delimited.render(document)
    if form == "xlsx":
        from reports.plans import workbook

        return workbook.render(document)
    if form == "text":
        from reports.plans import text

        return text.render(document)
    raise ValueError(f"form {form!r} is not known; there are {', '.join(PLAN_FORMS)}")


def boxes(document: doc.Document) -> int:
    """How many boxes for readings the run sheet has."""
    return len(document["order"]) * (len(document["trial"]["channels"]) or BLANK_BOXES)
