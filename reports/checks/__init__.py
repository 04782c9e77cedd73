"""Design-check documents as pages, PDF, JUnit XML, Markdown and text.

As for verdicts the document is all that is known here; its sentences were filled in by `reports.wording`.
"""

from typing import Final

from reports.document import Document

CHECK_FORMS: Final = ("html", "pdf", "junit", "markdown", "text")


def render_check(
    document: Document, form: str, *, paper: str | None = None, needs_more_runs_fails: bool = False
) -> bytes:
    """A completed design-check document in one of `CHECK_FORMS`; `needs_more_runs_fails` is for JUnit.

    ValueError for another form or paper; `reports.pdf.PdfUnavailable` where the system library is missing.
    """
    if form in {"html", "pdf"}:
        from reports.checks.view import check_view
        from reports.findings import finding

        written = finding.html if form == "html" else finding.pdf
        return written(check_view(document), paper=paper)
    if form == "junit":
        from reports.checks import junit

        return junit.render(document, needs_more_runs_fails=needs_more_runs_fails)
    if form == "markdown":
        from reports.checks import summary

        return summary.render(document)
    if form == "text":
        from reports.checks import text

        return text.render(document)
    raise ValueError(f"form {form!r} is not known; there are {', '.join(CHECK_FORMS)}")
