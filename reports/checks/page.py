"""A design check as one self-contained page, and as tagged PDF."""

from reports import html as html_writer
from reports import pdf as pdf_writer
from reports.checks.view import CheckReport, check_view
from reports.document import Document
from reports.page import Frame


def html(document: Document, *, paper: str | None) -> bytes:
    """The page, in UTF-8."""
    report = check_view(document)
    return html_writer.written(_frame(report), paper=paper, report=report)


def pdf(document: Document, *, paper: str | None) -> bytes:
    """The PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    report = check_view(document)
    return pdf_writer.laid_out(_frame(report), paper=paper, report=report)


def _frame(report: CheckReport) -> Frame:
    return Frame(
        template="check.html",
        kind="design check",
        title=f"{report.title}: {report.outcome}",
        heading=report.title,
        end=report.end,
        identifier=report.check_id,
        moments=report.issued_at,
    )
