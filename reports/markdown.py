"""A report as Markdown that fits a job's summary: outcome first, plain tables, headings from level 3.

It holds what the page holds, but for the pictures, whose words stand in their place.
"""

import re
from collections.abc import Iterator, Sequence

from reports.charts.pictures import Picture
from reports.document import Document
from reports.language import say
from reports.view import report_view
from reports.view.model import Answer, Bounds, Image, Report, Section, Table

BOUNDS = Bounds(rows=100, columns=16, picture_rows=60, picture_columns=12, channels=60)
MOST_BYTES = 1_000_000
_SIGNS = re.compile(r"([\\`*_\[\]|~#$])")
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "@": "&#64;"})
_LINKS = re.compile(r"(?i)(www)(\.)|(:)(//)")
_MARK_AT_START = re.compile(r"^(\s*)([-+=]|\d+[.)])(?=\s|$)")


def render(document: Document) -> bytes:
    """The Markdown of a completed analysis document, in UTF-8."""
    return written(_report(report_view(document, without_picture, BOUNDS)))


def written(lines: Iterator[str]) -> bytes:
    """Blocks as one text, no longer than a job's summary may be."""
    text = ("\n".join(lines) + "\n").encode("utf-8")
    if len(text) <= MOST_BYTES:
        return text
    cut = say("Cut here: the rest stands in the other forms of this report.")
    end = f"\n\n{cut}\n".encode()
    return text[: MOST_BYTES - len(end)].rpartition(b"\n")[0] + end


def escaped(text: str) -> str:
    """Text in which no sign means anything to Markdown, and nothing becomes a link or calls a person."""
    plain = _SIGNS.sub(r"\\\1", text).translate(_ENTITIES)
    plain = _LINKS.sub(lambda found: f"{found[1] or ''}\\{found[2] or found[3]}{found[4] or ''}", plain)
    return _MARK_AT_START.sub(_harmless, plain)


def section(part: Section) -> Iterator[str]:
    """A section of a report."""
    yield from ("", f"### {escaped(part.title)}")
    yield from _paragraphs(part.paragraphs)
    for note in part.notes:
        yield from ("", f"**{escaped(note.severity)}: {escaped(note.title)}.** {escaped(note.message)}")
    for figure in part.figures:
        yield from ("", escaped(figure.alt))
    for group in part.facts:
        yield ""
        yield from (f"- {escaped(fact.term)}: {escaped(fact.text)}" for fact in group.facts)
    for one in part.tables:
        yield from table(one)
    for listing in part.lists:
        yield ""
        yield from (f"{place}. {escaped(item)}" for place, item in enumerate(listing.items, start=1))
    yield from _paragraphs(part.remarks)


def table(one: Table) -> Iterator[str]:
    """A table with its caption above and its notes below."""
    headings = ["".join((column.text, *column.more)) for column in one.columns]
    yield from ("", escaped(one.caption), "", _cells(headings))
    yield _cells(["---:" if column.kind == "number" else "---" for column in one.columns], raw=True)
    for row in one.rows:
        yield _cells(["".join((cell.text, *cell.more)) for cell in (row.head, *row.cells)])
    yield from _paragraphs(one.notes)


def _report(report: Report) -> Iterator[str]:
    yield f"### {escaped(report.answer.outcome)}: {escaped(report.title)}"
    yield from ("", f"**{escaped(report.answer.statement)}**")
    yield from _answer(report.answer)
    yield ""
    yield from (f"- {term}: {escaped(text)}" for term, text in _facts(report))
    for part in report.sections:
        yield from section(part)
    yield from ("", escaped(report.end))


def _facts(report: Report) -> tuple[tuple[str, str], ...]:
    return (
        (say("Report"), report.report_id),
        (say("Scans"), report.scanned),
        (say("Issued"), report.issued),
        (say("Tried"), report.taken),
    )


def _answer(answer: Answer) -> Iterator[str]:
    yield from _paragraphs((*answer.reasons, answer.rule, *answer.findings))
    for scan in answer.one_scan:
        yield from ("", f"{escaped(scan.title)} {escaped(scan.statement)}")
    for one in answer.tables:
        yield from table(one)
    yield from ("", "### " + say("What this trial does not show"), "")
    yield from (f"- {escaped(limit)}" for limit in answer.limits)
    yield from ("", "### " + say("What to do next"), "")
    yield from (f"{place}. {escaped(step)}" for place, step in enumerate(answer.steps, start=1))


def _paragraphs(texts: Sequence[str]) -> Iterator[str]:
    for text in texts:
        yield from ("", escaped(text))


def _cells(texts: Sequence[str], *, raw: bool = False) -> str:
    return f"| {' | '.join(text if raw else escaped(text) for text in texts)} |"


def _harmless(found: re.Match[str]) -> str:
    return f"{found[1]}{found[2][:-1]}\\{found[2][-1]}"


def without_picture(_picture: Picture) -> Image:
    """Nothing: the words of a figure stand in its place."""
    return Image("", ())
