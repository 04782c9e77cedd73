"""Tables from lists of finished strings."""

from collections.abc import Sequence
from dataclasses import replace

from reports import numerals
from reports.view.model import Cell, Column, Row, Table

NOTHING = "\N{EN DASH}"
SMALL = 14
SHORT = 26
ELSEWHERE = "the rest stands in the analysis document (JSON)"


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
    """A table of at most so many rows; what is cut is said in a note.

    `headings` are (text, kind) pairs; the first cell of a row is its heading. `marked` are places of rows to
    be set apart; their words must say why.
    """
    columns = tuple(Column(text, shape) for text, shape in headings)
    cut = (f"{numerals.count(most)} of {numerals.count(len(rows))} rows are printed; {ELSEWHERE}.",)
    return Table(
        caption=caption,
        columns=columns,
        rows=tuple(_row(columns, row, marked=place in marked) for place, row in enumerate(rows[:most])),
        kind=kind,
        size="small" if min(len(rows), most) <= SMALL else "large",
        notes=(*notes, *(cut if len(rows) > most else ())),
    )


def _row(columns: tuple[Column, ...], texts: Sequence[str], *, marked: bool) -> Row:
    cells = [
        Cell(text or NOTHING, column.kind, column.text) for column, text in zip(columns, texts, strict=True)
    ]
    if len(cells[0].text) <= SHORT:
        cells[0] = replace(cells[0], kind="short")
    return Row(cells[0], tuple(cells[1:]), "marked" if marked else "plain")
