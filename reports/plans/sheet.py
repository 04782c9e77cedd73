"""The run sheet as one self-contained page, and as tagged PDF for the bench."""

from reports import document as doc
from reports import html as html_writer
from reports import pdf as pdf_writer
from reports.language import say
from reports.page import Frame
from reports.plans.model import Sheet
from reports.plans.view import sheet_view


def html(document: doc.Document, *, paper: str | None) -> bytes:
    """The page, in UTF-8."""
    sheet = sheet_view(document)
    extra = ("run_sheet", "run_sheet_screen")
    return html_writer.written(_frame(sheet), paper=paper, sheets=extra, sheet=sheet)


def pdf(document: doc.Document, *, paper: str | None) -> bytes:
    """The PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    sheet = sheet_view(document)
    return pdf_writer.laid_out(_frame(sheet), paper=paper, sheets=("run_sheet",), sheet=sheet)


def _frame(sheet: Sheet) -> Frame:
    return Frame(
        template="run_sheet.html",
        kind=say("run sheet"),
        title=say("{title}: run sheet", title=sheet.title),
        heading=sheet.title,
        end=sheet.end,
        identifier=sheet.sheet_id,
        places=(),
    )
