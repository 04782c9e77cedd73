"""Reports: an analysis document in, a page, a PDF, a table or a text out.

This package renders analysis documents and knows nothing else: nothing of the service, of HTTP, of storage,
of pandas or scipy. The way through it: `document` (look-ups), `locales` (marks and dates), `numerals` (all
rounding), `wording` (all sentences), `view` (finished strings), `charts` (pictures), `templates` and
`styles`, then one module for each form.
"""

from typing import Final

from reports.document import Document

FORMS: Final = ("html", "pdf", "junit", "markdown", "csv", "card", "summary")


def render(document: Document, form: str, *, paper: str | None = None, shape: str = "wide") -> bytes:
    """An analysis document as a report in the locale that is spoken (see `reports.locales`).

    Sentences that it lacks are filled in first, in another locale than the default one all of them anew.
    `form` is one of `FORMS`; `paper` is "a4" or "letter", by default that of the locale; `shape` is that of
    the card, "wide" or "square". ValueError for another form, paper or shape; `reports.pdf.PdfUnavailable`
    where the system library for PDF is missing.
    """
    from reports.wording import worded

    told = worded(document)
    if form in {"html", "pdf"}:
        from reports import html, pdf

        return html.render(told, paper=paper) if form == "html" else pdf.render(told, paper=paper)
    if form == "card":
        from reports import card

        return card.render(told, shape=shape)
    return _as_text(told, form)


def _as_text(complete: Document, form: str) -> bytes:
    if form == "junit":
        from reports import junit

        return junit.render(complete)
    if form == "markdown":
        from reports import markdown

        return markdown.render(complete)
    if form == "csv":
        from reports import delimited

        return delimited.render(complete)
    if form == "summary":
        from reports import summary

        return summary.render(complete)
    raise ValueError(f"form {form!r} is not known; there are {', '.join(FORMS)}")
