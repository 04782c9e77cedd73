"""Tables from lists of finished strings."""

import re
from collections.abc import Sequence
from dataclasses import replace

from reports import numerals
from reports.language import marked, say
from reports.view.model import Cell, Column, Row, Table

NOTHING = "\N{EN DASH}"
SMALL = 14
SHORT = 26
BREAK = "\n"  # stands in no finished string: `document.clean` makes a space of it
_LONG_WORD = re.compile(r"\S{19,}")
_PIECE = re.compile(r".{1,12}")
ELSEWHERE = marked("all of it stands in the CSV form, or in the JSON where there is no CSV")


def table(
    caption: str,
    headings: Sequence[tuple[str, str]],
    rows: Sequence[Sequence[str]],
    *,
    most: int,
    kind: str = "scrolled",
    marked: frozenset[int] = frozenset(),
    notes: Sequence[str] = (),
) -> Table:
    """A table of at most so many rows, without columns that hold nothing; what is left out is said in a note.

    `headings` are (text, kind) pairs; the first cell of a row is its heading. `marked` are places of rows to
    be set apart; their words must say why.
    """
    empty = _empty(rows)
    rows = [[text for place, text in enumerate(row) if place not in empty] for row in rows]
    columns = tuple(_column(*heading) for place, heading in enumerate(headings) if place not in empty)
    dropped = [text for place, (text, _) in enumerate(headings) if place in empty]
    without = say("Nothing can be given for: {columns}.", columns="; ".join(dropped))
    return Table(
        caption=caption,
        columns=columns,
        rows=tuple(_row(columns, row, marked=place in marked) for place, row in enumerate(rows[:most])),
        kind=kind,
        size="small" if min(len(rows), most) <= SMALL else "large",
        notes=(
            *notes,
            *([without] if dropped else []),
            *([_cut(most, len(rows))] if len(rows) > most else []),
        ),
    )


def _cut(most: int, every: int) -> str:
    return say(
        "{shown} of {every} rows are printed; {elsewhere}.",
        shown=numerals.count(most),
        every=numerals.count(every),
        elsewhere=say(ELSEWHERE),
    )


def _empty(rows: Sequence[Sequence[str]]) -> set[int]:
    """The places of columns without an entry in any row; the first one names the rows and always stays."""
    wide = len(rows[0]) if rows else 0
    return {place for place in range(1, wide) if not any(row[place] for row in rows)}


def _row(columns: tuple[Column, ...], texts: Sequence[str], *, marked: bool) -> Row:
    cells = [_cell(text or NOTHING, column) for column, text in zip(columns, texts, strict=True)]
    if len(texts[0]) <= SHORT and not cells[0].more:
        cells[0] = replace(cells[0], kind="short")
    return Row(cells[0], tuple(cells[1:]), "marked" if marked else "plain")


def _cell(text: str, column: Column) -> Cell:
    """Words too long for a column get places where they may be broken; numbers get none."""
    pieces = [text] if column.kind == "number" else _pieces(text)
    return Cell(pieces[0], column.kind, "".join((column.text, *column.more)), tuple(pieces[1:]))


def _column(text: str, kind: str) -> Column:
    pieces = _pieces(text)
    return Column(pieces[0], kind, tuple(pieces[1:]))


def _pieces(text: str) -> list[str]:
    return _LONG_WORD.sub(_broken, text).split(BREAK)


def _broken(word: re.Match[str]) -> str:
    return BREAK.join(_PIECE.findall(word.group()))
