"""The rows of a table of text, column by column, each different text kept once.

Two ways lead to the same columns. Without quotation marks and with equally many separators in every line, a
line is split at its separators and nothing else, which pandas does fast. Otherwise Python's csv module reads
row by row (in small lots, which is faster than large ones).
"""

import csv
import io
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from service.errors import BadRequest, Fault
from service.intake.columns import Codes, Column, Numbering, column_of
from service.intake.faults import FaultList
from service.intake.headings import Heading
from service.intake.spaces import has_other_spaces, plain_spaces
from service.intake.text_lines import BYTE_ORDER_MARK, TextLines

ROWS_AT_ONCE = 1000


@dataclass(frozen=True, eq=False)
class TextTable:
    """The cells below a heading, with plain spaces and none around them.

    `rows` are their lines, `empty_rows` those of lines without any text. `other_spaces` is the number of
    cells that held no-break spaces. `plain_numbers` are texts that stand for cells which hold a number and no
    text.
    """

    heading: Heading
    columns: tuple[Column, ...]
    rows: Codes
    empty_rows: Codes
    other_spaces: int = 0
    plain_numbers: frozenset[str] = frozenset()

    def column(self, name: str) -> Column | None:
        """The column of a heading, None where there is none."""
        return self.columns[self.heading.names.index(name)] if name in self.heading.names else None

    def only(self, rows: NDArray[np.bool_]) -> "TextTable":
        """The table of some of its rows."""
        columns = tuple(column.take(rows) for column in self.columns)
        return replace(self, columns=columns, rows=self.rows[rows])


def text_table(lines: TextLines, heading: Heading, faults: FaultList) -> TextTable:
    """The cells of the table; a row with too few or too many cells is noted as a fault and left out.

    Raises BadRequest for quotation marks out of place.
    """
    rest = lines.below(heading.end)
    if _splits_evenly(rest, heading):
        columns, rows = _split_columns(rest, heading)
    else:
        columns, rows = _CarefulRows(heading, faults).read(rest)
    return table_of(heading, columns, rows)


def table_of(
    heading: Heading, columns: Sequence[Column], rows: Codes, *, plain_numbers: frozenset[str] = frozenset()
) -> TextTable:
    """The table of columns as they came: spaces made plain, empty rows and columns left out."""
    spaced = [column for column in columns if any(map(has_other_spaces, column.texts))]
    other_spaces = sum(int(column.flags(has_other_spaces).sum()) for column in spaced)
    columns = [column.map(plain_spaces) for column in columns]
    empty = np.logical_and.reduce([~column.flags(bool) for column in columns])
    kept = tuple(column.take(~empty) for column in columns)
    table = TextTable(heading, kept, rows[~empty], rows[empty], other_spaces, plain_numbers)
    return _without_empty_columns(table)


def _without_empty_columns(table: TextTable) -> TextTable:
    """The table without the columns that have neither a heading nor a cell, as spreadsheets leave behind."""
    given = table.heading.given
    kept = [place for place, name in enumerate(given) if name or any(table.columns[place].texts)]
    if len(kept) == len(given):
        return table
    columns = tuple(table.columns[place] for place in kept)
    return replace(table, heading=table.heading.columns(kept), columns=columns)


def _splits_evenly(rest: bytes, heading: Heading) -> bool:
    """Whether no cell is quoted and every line has the separators of the heading.

    A byte order mark below the heading belongs to a cell, but pandas would take it off; of a single column it
    would refuse an empty line.
    """
    if b'"' in rest or not rest or rest.startswith(BYTE_ORDER_MARK) or len(heading.names) == 1:
        return False
    of_a_line = heading.sign.encode() * (len(heading.names) - 1) + b"\n"
    signs = rest.translate(None, bytes(set(range(256)).difference(of_a_line)))
    if not rest.endswith(b"\n"):
        signs += b"\n"
    return signs == of_a_line * (len(signs) // len(of_a_line))


def _split_columns(rest: bytes, heading: Heading) -> tuple[list[Column], Codes]:
    frame = pd.read_csv(
        io.BytesIO(rest),
        sep=heading.sign,
        header=None,
        dtype=object,
        na_filter=False,
        quoting=csv.QUOTE_NONE,
        skip_blank_lines=False,
        encoding="utf-8",
        lineterminator="\n",
    )
    columns = [column_of(frame[place].tolist()) for place in range(len(heading.names))]
    return columns, heading.end + 1 + np.arange(len(frame), dtype=np.int64)


class _CarefulRows:
    """Reads rows by the csv module and keeps, for each column, a code a row."""

    def __init__(self, heading: Heading, faults: FaultList):
        self._heading = heading
        self._faults = faults
        self._codes: list[list[NDArray[np.int64]]] = [[] for _ in heading.names]
        self._numberings = [Numbering() for _ in heading.names]
        self._rows: list[NDArray[np.int64]] = []

    def read(self, rest: bytes) -> tuple[list[Column], Codes]:
        """All columns, and the line of each row."""
        text = io.StringIO(rest.decode("utf-8"), newline="")
        reader = csv.reader(text, delimiter=self._heading.sign, strict=True)
        line = self._heading.end + 1
        try:
            while lot := list(islice(reader, ROWS_AT_ONCE)):
                height = self._heading.end + 1 + reader.line_num - line
                self._keep(lot, line, height)
                line += height
        except csv.Error as error:
            where = self._heading.end + _first_line_that_fails(rest, self._heading)
            detail = f"Line {where} cannot be split into cells: {error}. Mend the quotation marks there."
            raise BadRequest(detail) from error
        columns = [
            Column(np.concatenate([*codes, np.empty(0, dtype=np.int64)]), numbering.texts())
            for codes, numbering in zip(self._codes, self._numberings, strict=True)
        ]
        return columns, np.concatenate([*self._rows, np.empty(0, dtype=np.int64)])

    def _keep(self, lot: list[list[str]], line: int, height: int) -> None:
        """Keep the good rows of a lot that begins in `line` and has `height` lines."""
        lines = line + np.arange(len(lot))
        if height > len(lot):
            heights = np.array([1 + sum(cell.count("\n") for cell in row) for row in lot])
            lines = line + np.cumsum(heights) - heights
        width = len(self._heading.names)
        good = [row for row in lot if len(row) == width]
        if len(good) < len(lot):
            lot = [_cut(row, width) for row in lot]
            good = [row for row in lot if len(row) == width]
            lines = self._without_ragged(lot, lines)
        self._rows.append(lines)
        for column, codes, numbering in zip(
            zip(*good, strict=True), self._codes, self._numberings, strict=False
        ):
            codes.append(numbering.codes(column))

    def _without_ragged(self, lot: list[list[str]], lines: Codes) -> Codes:
        width = len(self._heading.names)
        bad = [
            index for index, row in enumerate(lot) if len(row) != width and any(cell.strip() for cell in row)
        ]
        self._faults.lost_many(
            len(bad), lambda index: _ragged(lot[bad[index]], int(lines[bad[index]]), self._heading)
        )
        return lines[[len(row) == width for row in lot]]


def _first_line_that_fails(rest: bytes, heading: Heading) -> int:
    """The line in which the row begins that cannot be split: an open quotation mark swallows those below."""
    reader = csv.reader(io.StringIO(rest.decode("utf-8"), newline=""), delimiter=heading.sign, strict=True)
    line = 1
    with suppress(csv.Error):
        for _ in reader:
            line = reader.line_num + 1
    return line


def _cut(row: list[str], width: int) -> list[str]:
    """The row without the empty cells that stand behind those of the heading."""
    return row[:width] if len(row) > width and not any(cell.strip() for cell in row[width:]) else row


def _ragged(row: Sequence[str], line: int, heading: Heading) -> Fault:
    width = len(heading.names)
    detail = f"The row has {len(row)} cells where the heading has {width}."
    if len(row) < width:
        detail += " Every cell needs its separator, an empty one too."
    elif heading.separator == ",":
        detail += " If it holds a decimal comma, write a point (7.5), or save the file with semicolons."
    else:
        detail += " Put a cell that holds a separator in quotation marks."
    return Fault(detail, row=line, given=(heading.sign).join(row)[:80])
