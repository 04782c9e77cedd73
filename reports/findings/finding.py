"""A report on one question, check or history: an answer with its rule, tables and sections, in every form."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from reports.language import say
from reports.page import Frame
from reports.view.model import Figure, Section, Table

MOST_ROWS: Final = 64
"""Rows that a table of a finding prints."""


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


def as_markdown(report: Finding, texts: Iterable[str]) -> bytes:
    """The report as Markdown that fits a job's summary; `texts` stand between the answer and the tables."""
    from reports import markdown

    return markdown.written(_markdown(report, texts))


def as_text(report: Finding, between: Iterable[str] = ()) -> bytes:
    """The report as plain text for a terminal or a log; `between` are lines before cautions and limits."""
    from reports.text import plain

    return ("\n".join(plain(line) for line in _text(report, between)) + "\n").encode("utf-8")


def _markdown(report: Finding, texts: Iterable[str]) -> Iterator[str]:
    from reports.markdown import escaped, section, table

    yield f"### {escaped(report.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.statement)}**")
    for text in texts:
        yield from ("", escaped(text))
    for one in report.tables:
        yield from table(one)
    yield ""
    facts = ((report.named, report.code), (say("Scans"), report.scanned), (say("Issued"), report.issued))
    yield from (f"- {term}: {escaped(text)}" for term, text in facts)
    for part in report.sections:
        yield from section(part)
    yield from ("", escaped(report.end))


def _text(report: Finding, between: Iterable[str]) -> Iterator[str]:
    """What is not seen and the cautions, the first two sections, come last."""
    yield say("Outcome: {outcome}", outcome=report.outcome)
    yield from (report.statement, *report.findings, "", report.rule, *between)
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
