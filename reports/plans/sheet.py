"""The run sheet as one self-contained page, and as tagged PDF for the bench."""

from markupsafe import Markup

from reports import document as doc
from reports import fonts, page
from reports import pdf as pdf_writer
from reports.html import content_security_policy
from reports.plans.view import sheet_view

TEMPLATE = "run_sheet.html"


def html(document: doc.Document, *, paper: str) -> bytes:
    """The page, in UTF-8."""
    own = page.style("palette", "both", "screen", "run_sheet", "run_sheet_screen")
    style = f"{own}\n{page.paper_rule(paper)}"
    text = _filled(
        document,
        policies=(content_security_policy(style),),
        styles=(Markup(style),),  # noqa: S704 (our own style sheets, no stranger's text)
        running="",
    )
    return text.encode("utf-8")


def pdf(document: doc.Document, *, paper: str) -> bytes:
    """The PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    own = page.style("palette", "both", "print", "run_sheet")
    style = f"{fonts.face_rules()}\n{own}\n{page.paper_rule(paper)}"
    sheet = sheet_view(document)
    text = _filled(document, policies=(), styles=(), running=pdf_writer.shortened(sheet.title))
    return pdf_writer.written(text, style=style, identifier=sheet.sheet_id.encode("utf-8"))


def _filled(document: doc.Document, **placed: object) -> str:
    return page.environment().get_template(TEMPLATE).render(sheet=sheet_view(document), **placed)
