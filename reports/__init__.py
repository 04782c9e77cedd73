"""Reports: an analysis document in, a page or a PDF out.

This package renders analysis documents and knows nothing else: nothing of the service, of HTTP, of storage,
of pandas or scipy. The way through it: `document` (look-ups), `numerals` (all rounding), `wording` (all
sentences), `view` (finished strings), `charts` (pictures), `templates` and `styles`, then `html`, `pdf` and
`text`.
"""

from typing import Final

from reports.document import Document

FORMS: Final = ("html", "pdf", "junit", "markdown")


def render(document: Document, form: str, *, paper: str = "a4") -> bytes:
    """An analysis document as a report; sentences that it lacks are filled in first.

    `form` is one of `FORMS`, `paper` "a4" or "letter". ValueError for another form or paper;
    `reports.pdf.PdfUnavailable` where the system library for PDF is missing.
    """
    from reports.wording import complete

    if form == "html":
        from reports import html

        return html.render(complete(document), paper=paper)
    if form == "pdf":
        from reports import pdf

        return pdf.render(complete(document), paper=paper)
    if form == "junit":
        from reports import junit

        return junit.render(complete(document))
    if form == "markdown":
        from reports import markdown

        return markdown.render(complete(document))
    raise ValueError(f"form {form!r} is not known; there are {', '.join(FORMS)}")
