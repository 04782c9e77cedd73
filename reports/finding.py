"""What checks and histories have in common as reports: an answer with its rule, tables and sections."""

from collections.abc import Iterator
from dataclasses import dataclass

from reports.language import say
from reports.page import Frame
from reports.view.model import Figure, Section, Table


@dataclass(frozen=True)
class Finding:
    """A whole report on one question, in finished strings.

    kind: what it is, in two words. named: the same in the one word that stands before its `code`, which
    tells it from all others. issued_at: the time of issue, or nothing.
    """

    kind: str
    named: str
    code: str
    title: str
    scanned: str
    issued: str
    issued_at: tuple[str, ...]
    outcome: str
    statement: str
    rule: str
    findings: tuple[str, ...]
    figures: tuple[Figure, ...]
    tables: tuple[Table, ...]
    sections: tuple[Section, ...]

    @property
    def end(self) -> str:
        """The last line."""
        return say("End of report {report}", report=self.code)


def html(report: Finding, *, paper: str | None) -> bytes:
    """The report as one self-contained page, in UTF-8."""
    from reports import html as html_writer

    return html_writer.written(_frame(report), paper=paper, report=report)


def pdf(report: Finding, *, paper: str | None) -> bytes:
    """The report as tagged PDF; `reports.pdf.PdfUnavailable` where pango is missing."""
    from reports import pdf as pdf_writer

    return pdf_writer.laid_out(_frame(report), paper=paper, report=report)


def ending_as_markdown(report: Finding) -> Iterator[str]:
    """The lines of Markdown behind the answer and its tables."""
    from reports.markdown import escaped, section

    yield ""
    facts = ((report.named, report.code), (say("Scans"), report.scanned), (say("Issued"), report.issued))
    yield from (f"- {term}: {escaped(text)}" for term, text in facts)
    for part in report.sections:
        yield from section(part)
    yield from ("", escaped(report.end))


def ending_as_text(report: Finding) -> Iterator[str]:
    """The lines for a terminal behind the answer: cautions and what is not seen, which come first."""
    for part in report.sections[:2]:
        yield from ("", part.title)
        yield from (f"- {note.severity}: {note.title}. {note.message}" for note in part.notes)
        yield from (f"- {item}" for listing in part.lists for item in listing.items)
    yield from ("", say("{report}; scans {days}", report=report.code, days=report.scanned))


def _frame(report: Finding) -> Frame:
    return Frame(
        template="finding.html",
        kind=report.kind,
        title=f"{report.title}: {report.outcome}",
        heading=report.title,
        end=report.end,
        identifier=report.code,
        moments=report.issued_at,
    )
