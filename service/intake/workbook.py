"""Readings from a workbook (XLSX): which sheet holds them, and its cells as a table."""

from collections.abc import Iterator, Sequence
from itertools import chain, islice
from typing import Any

import numpy as np

from service.errors import BadRequest, Fault
from service.intake.accounts import Source
from service.intake.columns import Column, Numbering
from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.heading_search import LINES_LOOKED_AT, Found, cell_heading
from service.intake.media_types import XLSX
from service.intake.sheet_cells import PLACE, Row, SheetCells
from service.intake.tables import TableReader
from service.intake.text_table import ROWS_AT_ONCE, TextTable, table_of
from service.intake.workbook_archive import Archive, open_archive
from service.intake.workbook_parts import Parts, Sheet, workbook_parts
from service.settings import Limits

WANTED_SHEET = "readings"
MOST_TOLD = 12


def workbook_readings(
    body: bytes, reader: TableReader, *, faults: FaultList, limits: Limits
) -> tuple[Draft, dict[str, Any]]:
    """The readings of a workbook, faults noted, and how it was understood.

    Raises BadRequest for what is no workbook or leaves open which sheet is meant, TooLarge past a limit,
    BadInput where the heading hides the readings.
    """
    archive = open_archive(body, limits)
    parts = workbook_parts(archive)
    sheet, notes = _sheet_of_readings(archive, parts, limits)
    cells = SheetCells(archive, sheet, parts, most_cells=limits.workbook_cells)
    found, table = _table(cells, reader)
    faults.add(_merged(cells, found))
    source = Source(
        XLSX, sheet=sheet.name[:200], above=found.above, notes=(*notes, *_hidden(cells, found.heading.row))
    )
    return reader.draft(table, source)


def _sheet_of_readings(archive: Archive, parts: Parts, limits: Limits) -> tuple[Sheet, list[str]]:
    """The sheet, and what is told of the others: the one named readings, else the only one with data."""
    filled = [sheet for sheet in parts.sheets if _has_data(archive, sheet, parts, limits)]
    named = [sheet for sheet in filled if sheet.name.strip().casefold() == WANTED_SHEET]
    seen = [sheet for sheet in filled if not sheet.is_hidden]
    choice = named or seen or filled
    if not choice:
        raise BadRequest("The workbook is empty. Send one with a sheet of readings.")
    if len(choice) > 1:
        names = ", ".join(sheet.name[:80] for sheet in choice[:MOST_TOLD])
        raise BadRequest(
            f"Several sheets hold data: {names}. Name the one with the readings {WANTED_SHEET}, or send it "
            "alone."
        )
    sheet = choice[0]
    notes = [f"the sheet {sheet.name[:80]} is hidden and was read"] if sheet.is_hidden else []
    others = [
        f"the sheet {other.name[:80]} was not read{' (it is hidden)' if other.is_hidden else ''}"
        for other in filled
        if other is not sheet
    ]
    return sheet, notes + others[:MOST_TOLD]


def _has_data(archive: Archive, sheet: Sheet, parts: Parts, limits: Limits) -> bool:
    cells = SheetCells(archive, sheet, parts, most_cells=limits.workbook_cells)
    return any(text.strip() for _, row in cells.rows() for text in row)


def _table(cells: SheetCells, reader: TableReader) -> tuple[Found, TextTable]:
    """Where the heading stands, and the table below it."""
    rows = ((row, texts) for row, texts in cells.rows() if any(text.strip() for text in texts))
    top = list(islice(rows, LINES_LOOKED_AT))
    found = cell_heading(top)
    width = max(len(texts) for _, texts in top)
    heading = found.heading.widened(width)
    below = chain((each for each in top if each[0] > heading.row), rows)
    gathered = _Gathered(width)
    for count, lot in enumerate(iter(lambda: list(islice(below, ROWS_AT_ONCE)), [])):
        reader.check_count(count * ROWS_AT_ONCE + len(lot), heading)
        gathered.add(lot)
    columns, numbers = gathered.columns()
    return found, table_of(heading.widened(len(columns)), columns, numbers, plain_numbers=cells.plain_numbers)


class _Gathered:
    """Columns gathered from rows, as wide as the widest of them."""

    def __init__(self, width: int):
        self._rows: list[Any] = []
        self._codes: list[list[Any]] = [[] for _ in range(width)]
        self._numberings = [Numbering() for _ in range(width)]
        self._heights: list[int] = []

    def add(self, lot: Sequence[Row]) -> None:
        """Take in some rows."""
        while len(self._codes) < max(len(texts) for _, texts in lot):
            self._codes.append([Numbering().codes([None] * height) for height in self._heights])
            self._numberings.append(Numbering())
        width = len(self._codes)
        padded = [texts + [""] * (width - len(texts)) for _, texts in lot]
        for column, codes, numbering in zip(
            zip(*padded, strict=True), self._codes, self._numberings, strict=True
        ):
            codes.append(numbering.codes(column))
        self._rows.append(np.array([row for row, _ in lot], dtype=np.int64))
        self._heights.append(len(lot))

    def columns(self) -> tuple[list[Column], Any]:
        """The columns, and the number of each row."""
        none = np.empty(0, dtype=np.int64)
        columns = [
            Column(np.concatenate([*codes, none]), numbering.texts())
            for codes, numbering in zip(self._codes, self._numberings, strict=True)
        ]
        return columns, np.concatenate([*self._rows, none])


def _merged(cells: SheetCells, found: Found) -> Iterator[Fault]:
    """Merged cells in the table: only the first of them holds anything."""
    for area in cells.merged:
        ends = [PLACE.fullmatch(end) for end in area.split(":")]
        rows = [int(end[2]) for end in ends if end is not None]
        if rows and max(rows) >= found.heading.row:
            detail = (
                "These cells are merged, so that only one of them holds a value. Unmerge them and fill each."
            )
            yield Fault(detail, row=min(rows), column=area[:80], given=area[:80])


def _hidden(cells: SheetCells, heading_row: int) -> list[str]:
    rows = [row for row in cells.hidden_rows if row >= heading_row]
    told = [f"hidden rows were read: {_listed(list(map(str, rows)))}"] if rows else []
    return told + (
        [f"hidden columns were read: {_listed(cells.hidden_columns)}"] if cells.hidden_columns else []
    )


def _listed(names: Sequence[str]) -> str:
    more = len(names) - MOST_TOLD
    return ", ".join(names[:MOST_TOLD]) + (f" and {more} more" if more > 0 else "")
