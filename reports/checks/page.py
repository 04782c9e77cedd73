"""A design check as one self-contained page, and as tagged PDF."""

from markupsafe import Markup

from reports import fonts, page
from reports import pdf as pdf_writer
from reports.checks.view import check_view
from reports.document import Document
from reports.html import content_security_policy

TEMPLATE = "check.html"


def html(document: Document, *, paper: str) -> bytes:
    """The page, in UTF-8."""
    style = f"{page.style('palette', 'both', 'screen')}\n{page.paper_rule(paper)}"
    text = _filled(
        document,
        policies=(content_security_policy(style),),
        styles=(Markup(style),),  # noqa: S704 (our own style sheets, no stranger's text)
        places=("Page 1 of 1",),
        running="",
    )
    return text.encode("utf-8")


def pdf(document: Document, *, paper: str) -> bytes:
    """The PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    own = page.style("palette", "both", "print")
    style = f"{fonts.face_rules()}\n{own}\n{page.paper_rule(paper)}"
    title = pdf_writer.shortened(check_view(document).title)
    text = _filled(document, policies=(), styles=(), places=(), running=title)
    return pdf_writer.written(text, style=style, identifier=document["check_id"].encode("utf-8"))


def _filled(document: Document, **placed: object) -> str:
    report = check_view(document)
    return page.environment().get_template(TEMPLATE).render(report=report, moments=report.issued_at, **placed)
