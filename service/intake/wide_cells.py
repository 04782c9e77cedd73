"""The cells of a wide table: a row for each channel, a column for each run."""

import numpy as np
from numpy.typing import NDArray

from service.intake import remarks
from service.intake.column_check import ColumnCheck
from service.intake.columns import Column, column_of
from service.intake.draft import Draft, no_names, no_times
from service.intake.faults import FaultList
from service.intake.summary_lines import without_wide_sums
from service.intake.table_draft import TableDraft
from service.intake.text_table import TextTable
from service.intake.value_cells import Manner, ValueCells, value_cells
from service.intake.values import State
from service.intake.wide_form import RunColumn

Flags = NDArray[np.bool_]


def wide_draft(
    table: TextTable, columns: list[RunColumn], manner: Manner, *, faults: FaultList, longest: int
) -> TableDraft:
    """The readings of the table, row by row; `longest` is the length that a name may have.

    A blank cell stands for a channel on which nothing was found, unless its whole row or its whole column is
    blank: then nothing was scanned there.
    """
    manner = manner.for_texts(text for column in columns for text in table.columns[column.place].texts)
    bare = without_wide_sums(table, columns, manner, faults=faults)
    table, columns = bare.table, bare.columns
    check = ColumnCheck(table.rows, faults, longest=longest)
    channel = check.names(_column(table, "channel"), "channel", required=True)
    rf_channel = check.names(_column(table, "rf_channel"), "rf_channel")
    _refuse_repeats(channel, table, check)
    texts = _joined([table.columns[column.place] for column in columns], len(table.rows))
    cells = value_cells(texts.codes, texts.texts, manner)
    _refuse_values(texts, cells, table, columns=columns, faults=faults)
    blank = (cells.state == State.BLANK).reshape(len(table.rows), len(columns))
    blank_rows, blank_columns = blank.all(axis=1), blank.all(axis=0)
    cells.state[(blank_rows[:, None] | blank_columns).ravel()] = State.NOT_SCANNED
    draft = _draft(table, columns, cells, names=(channel, rf_channel), shift=manner.shift)
    skipped = _skipped(table, columns, blank_rows, blank_columns=blank_columns)
    return TableDraft(draft, cells, manner, bare.skipped + skipped)


def _column(table: TextTable, name: str) -> Column:
    return table.column(name) or no_names(len(table.rows))


def _refuse_repeats(channel: Column, table: TextTable, check: ColumnCheck) -> None:
    """A channel with two rows."""
    first, place = np.unique(channel.codes, return_index=True, return_inverse=True)[1:]
    again = (first[place] != np.arange(len(place))) & (channel.codes >= 0)

    def told(row: int) -> tuple[str, str, object]:
        above = int(table.rows[first[place[row]]])
        detail = f"This channel has a row already, row {above}. Give each channel one row."
        return "channel", detail, channel.text(row)

    check.refuse(again, told)


def _joined(columns: list[Column], rows: int) -> Column:
    """The cells of several columns row by row, as one column of rows x columns entries."""
    place: dict[str, int] = {}
    codes = np.empty((rows, len(columns)), dtype=np.int64)
    for index, column in enumerate(columns):
        table = [place.setdefault(text, len(place)) for text in column.texts]
        codes[:, index] = np.array(table, dtype=np.int64)[column.codes] if rows else 0
    return Column(codes.ravel(), list(place))


def _refuse_values(
    texts: Column, cells: ValueCells, table: TextTable, *, columns: list[RunColumn], faults: FaultList
) -> None:
    faulty = np.flatnonzero(cells.state == State.FAULTY)

    def told(index: int) -> tuple[str, str, object]:
        cell = int(faulty[index])
        text = texts.text(cell) or ""
        return columns[cell % len(columns)].heading, cells.detail(text), text

    faults.at_rows(table.rows[faulty // max(len(columns), 1)], told)


def _draft(
    table: TextTable,
    columns: list[RunColumn],
    cells: ValueCells,
    *,
    names: tuple[Column, Column],
    shift: float,
) -> Draft:
    channel, rf_channel = names
    width, total = len(columns), len(table.rows) * len(columns)
    element = column_of([column.element for column in columns])
    number = np.array([column.round for column in columns], dtype=np.int64)
    return Draft(
        row=np.repeat(table.rows, width),
        element=Column(np.tile(element.codes, len(table.rows)), element.texts),
        channel=Column(np.repeat(channel.codes, width), channel.texts),
        value=cells.value,
        state=cells.state,
        round=np.tile(number, len(table.rows)),
        rf_channel=Column(np.repeat(rf_channel.codes, width), rf_channel.texts),
        at=no_times(total),
        run=no_names(total),
        mounting=no_names(total),
        heading=lambda cell: columns[cell % width].heading,
        shift=shift,
    )


def _skipped(
    table: TextTable, columns: list[RunColumn], blank_rows: Flags, *, blank_columns: Flags
) -> list[dict[str, object]]:
    found: list[dict[str, object]] = [
        remarks.skipped(table.heading.row, remarks.BLANK_COLUMN, column=column.heading)
        for column, blank in zip(columns, blank_columns, strict=True)
        if blank
    ]
    return found + [remarks.skipped(int(row), remarks.BLANK_ROW) for row in table.rows[blank_rows]]
