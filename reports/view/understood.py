"""How the readings were understood: the file, what was found in it, and what each column was read as."""

from collections.abc import Callable
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as, say_number
from reports.view.model import Bounds, Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording import reading_remarks
from reports.wording.speech import Speech, listed

_MARKS: Final = {",": marked("comma"), ";": marked("semicolon"), "\t": marked("tab")}
_POINT: Final = marked("point")
_FORMS: Final = {"long": marked("long form"), "wide": marked("wide form")}
_ROUNDS_FROM: Final = {
    "round column": marked("round column"),
    "mountings": marked("mountings"),
    "times": marked("times"),
    "order of rows": marked("order of rows"),
}


def understood(speech: Speech, bounds: Bounds) -> Section:
    """How the readings were understood."""
    read = speech.document["read_as"]
    told = _ROUNDS_FROM.get(read.get("rounds_from") or "")
    facts = [
        Fact(say("File"), _file(read)),
        Fact(say("Found in it"), _found(speech, read)),
        Fact(say("Rounds told by"), say(told) if told else say_as("how rounds are told", "not known")),
        Fact(say("Blank cells"), _blanks(read.get("blanks_read_as_lost") or 0)),
        Fact(say("Not scanned"), numerals.number_of(read.get("not_scanned") or 0, "cell", "cells")),
        *_marks(read),
        Fact(say("Skipped"), _skipped(read)),
    ]
    return Section(
        anchor="understood",
        title=say("How the file was understood"),
        facts=(FactList(tuple(facts)),),
        tables=_columns(read, bounds),
    )


def _columns(read: doc.Entry, bounds: Bounds) -> tuple[Table, ...]:
    rows = [
        [doc.clean(entry["heading"]), reading_remarks.read_as(entry)] for entry in read.get("columns") or ()
    ]
    headings = [(say("heading"), "name"), (say("read as"), "words")]
    return (table(say("Columns"), headings, rows, most=bounds.rows),) if rows else ()


def _file(read: doc.Entry) -> str:
    parts = [
        doc.clean(read.get("media_type") or ""),
        say(_FORMS[read["shape"]]) if read.get("shape") else "",
        doc.clean(read.get("encoding") or ""),
        say("with byte order mark") if read.get("byte_order_mark") else "",
        say("separated by {sign}", sign=_separator(read["delimiter"])) if read.get("delimiter") else "",
        say("decimal {mark}", mark=_decimal(read["decimal_mark"])) if read.get("decimal_mark") else "",
        say("sheet {name}", name=doc.clean(read["sheet"])) if read.get("sheet") else "",
        say("headings in line {number}", number=read["header_row"])
        if read.get("header_row") is not None
        else "",
    ]
    return ", ".join(part for part in parts if part)


def _separator(sign: str) -> str:
    return say(_MARKS[sign]) if sign in _MARKS else doc.clean(sign)


def _decimal(sign: str) -> str:
    return say(_MARKS.get(sign, _POINT))


def _found(speech: Speech, read: doc.Entry) -> str:
    counted: dict[str, Callable[[int], str]] = {
        "rows": lambda number: numerals.number_of(number, "row", "rows"),
        "runs": lambda number: numerals.number_of(number, "run", "runs"),
        "rounds": speech.rounds,
        "elements": speech.compared,
        "channels": lambda number: numerals.number_of(number, "channel", "channels"),
        "rf_channels": lambda number: numerals.number_of(
            number, "RF channel compared", "RF channels compared"
        ),
    }
    return listed([told(read[key]) for key, told in counted.items() if read.get(key) is not None])


def _blanks(cells: int) -> str:
    return say_number(
        "{number} read as “scanned, nothing found”",
        "{number} read as “scanned, nothing found”",
        cells,
        number=numerals.count(cells),
    )


def _marks(read: doc.Entry) -> list[Fact]:
    marks = [_mark(doc.clean(mark), number) for mark, number in (read.get("marks") or {}).items()]
    return [Fact(say("Marks"), listed(marks))] if marks else []


def _mark(mark: str, times: int) -> str:
    return say_number(
        "“{mark}” {number} time", "“{mark}” {number} times", times, mark=mark, number=numerals.count(times)
    )


def _skipped(read: doc.Entry) -> str:
    skipped = [
        say("row {number} ({why})", number=entry["row"], why=reading_remarks.skipped(entry))
        for entry in read.get("skipped") or ()
    ]
    return listed(skipped) or say_as("rows", "nothing")
