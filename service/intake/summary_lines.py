"""Takes rows and columns of sums out of a table: told where they hold, else refused."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from service.intake import remarks
from service.intake.column_check import ColumnCheck
from service.intake.columns import Column
from service.intake.draft import no_names
from service.intake.faults import FaultList
from service.intake.headings import heading_fault
from service.intake.summaries import Flags, is_summary, kinds_of_columns, kinds_of_rows
from service.intake.text_table import TextTable
from service.intake.value_cells import Manner
from service.intake.wide_form import RunColumn

NO_SUM = (
    "This row is called {name}, but its numbers are neither the sum nor the mean of those of the other rows: "
    "take it out (totals are made from the readings), or give what it names another name."
)
NO_SUM_COLUMN = (
    "This column is called {name}, but its numbers are neither the sum nor the mean of those beside them: "
    "take it out, or write {name}@1 where it is an element."
)


@dataclass(frozen=True, eq=False)
class Bare:
    """A table without its sums, the columns of its values, and what was skipped."""

    table: TextTable
    columns: list[RunColumn]
    skipped: list[dict[str, object]]


def without_wide_sums(
    table: TextTable, columns: list[RunColumn], manner: Manner, *, faults: FaultList
) -> Bare:
    """A wide table without rows and columns of sums; those that cannot be checked are noted as faults."""
    manner = replace(manner, shift=0.0)
    sums = [place for place, column in enumerate(columns) if is_summary(column.name)]
    runs = [column for column in columns if not is_summary(column.name)]
    channel = table.column("channel") or no_names(len(table.rows))
    values = [table.columns[column.place] for column in runs]
    filled = np.logical_or.reduce(
        [column.flags(bool) for column in values] or [np.zeros(len(table.rows), bool)]
    )
    flagged = channel.flags(is_summary) & filled
    skipped = _rows_skipped(table, flagged, values, manner=manner, faults=faults, names=("channel", channel))
    kept = table.only(~flagged)
    if sums:
        kinds = kinds_of_columns([kept.columns[column.place] for column in columns], sums, manner)
        skipped += _columns_skipped(
            table, [columns[place] for place in sums], list(kinds.values()), faults=faults
        )
    return Bare(kept, runs, skipped)


def without_long_sums(
    table: TextTable, manner: Manner, *, faults: FaultList
) -> tuple[TextTable, list[dict[str, object]]]:
    """A long table without rows of sums: those that name no reading, but a sum in the place of one."""
    element, channel = (table.column(name) or no_names(len(table.rows)) for name in ("element", "channel"))
    named = [column.flags(is_summary) for column in (element, channel)]
    free = [~column.flags(bool) for column in (element, channel)]
    flagged = (named[0] & (named[1] | free[1])) | (named[1] & free[0])
    values = table.column("value")
    if values is None or not flagged.any():
        return table, []
    by_element = bool(named[0][flagged].all())
    names = ("element", element) if by_element else ("channel", channel)
    manner = replace(manner, shift=0.0)
    skipped = _rows_skipped(table, flagged, [values], manner=manner, faults=faults, names=names)
    return table.only(~flagged), skipped


def _rows_skipped(
    table: TextTable,
    flagged: Flags,
    values: Sequence[Column],
    *,
    manner: Manner,
    faults: FaultList,
    names: tuple[str, Column],
) -> list[dict[str, object]]:
    if not flagged.any():
        return []
    kinds = kinds_of_rows(values, flagged, manner)
    wrong = flagged.copy()
    wrong[[row for row, kind in kinds.items() if kind]] = False
    heading, column = names

    def told(row: int) -> tuple[str, str, object]:
        name = column.text(row) or ""
        return heading, NO_SUM.format(name=name[:80]), name

    ColumnCheck(table.rows, faults, longest=0).refuse(wrong, told)
    return [
        remarks.skipped(int(table.rows[row]), remarks.SUMMED_ROW[kind]) for row, kind in kinds.items() if kind
    ]


def _columns_skipped(
    table: TextTable, sums: Sequence[RunColumn], kinds: Sequence[str], *, faults: FaultList
) -> list[dict[str, object]]:
    skipped: list[dict[str, object]] = []
    for column, kind in zip(sums, kinds, strict=True):
        name = column.name[:80]
        if kind:
            skipped.append(remarks.skipped(table.heading.row, remarks.SUMMED_COLUMN[kind], column=name))
            continue
        faults.add([heading_fault(table.heading, column.place, NO_SUM_COLUMN.format(name=name))])
        faults.heading_faulty = True
    return skipped
