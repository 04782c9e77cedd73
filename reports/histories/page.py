"""A design's history as one self-contained page, and as tagged PDF."""

from reports import html as html_writer
from reports import pdf as pdf_writer
from reports.document import Document
from reports.histories.view import HistoryReport, history_view
from reports.page import Frame


def html(document: Document, *, paper: str | None) -> bytes:
    """The page, in UTF-8."""
    report = history_view(document, html_writer.draw)
    return html_writer.written(_frame(report), paper=paper, report=report)


def pdf(document: Document, *, paper: str | None) -> bytes:
    """The PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    report = history_view(document, pdf_writer.draw)
    return pdf_writer.laid_out(_frame(report), paper=paper, report=report)


def _frame(report: HistoryReport) -> Frame:
    return Frame(
        template="history.html",
        kind="design history",
        title=f"{report.title}: {report.outcome}",
        heading=report.title,
        end=report.end,
        identifier=report.history_id,
        moments=(report.issued_at,),
    )
