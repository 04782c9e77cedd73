"""Design-history documents as pages, PDF, Markdown and text.

As for verdicts the document is all that is known here; its sentences were filled in by `reports.wording`.
"""

from typing import Final

from reports.document import Document

HISTORY_FORMS: Final = ("html", "pdf", "markdown", "text")


def render_history(document: Document, form: str, *, paper: str | None = None) -> bytes:
    """A completed design-history document in one of `HISTORY_FORMS`.

    ValueError for another form or paper; `reports.pdf.PdfUnavailable` where the system library is missing.
    """
    if form == "html":
        from reports import html
        from reports.findings import finding
        from reports.histories.view import history_view

        return finding.html(history_view(document, html.draw), paper=paper)
    if form == "pdf":
        from reports import pdf
        from reports.findings import finding
        from reports.histories.view import history_view

        return finding.pdf(history_view(document, pdf.draw), paper=paper)
    if form == "markdown":
        from reports.histories import summary

        return summary.render(document)
    if form == "text":
        from reports.histories import text

        return text.render(document)
    raise ValueError(f"form {form!r} is not known; there are {', '.join(HISTORY_FORMS)}")
