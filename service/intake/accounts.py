"""The account of how a batch was understood, as far as intake knows it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from service.intake import remarks
from service.intake.draft import Draft
from service.intake.headings import LONG_HEADINGS, WIDE, Heading
from service.intake.table_draft import TableDraft
from service.intake.text_table import TextTable
from service.intake.values import State
from service.intake.wide_form import RunColumn


@dataclass(frozen=True)
class Source:
    """Where a table came from: what is told of a file of text, or of a workbook."""

    media_type: str
    encoding: str | None = None
    byte_order_mark: bool = False
    sheet: str | None = None
    above: tuple[int, ...] = ()
    separator_row: int | None = None
    notes: tuple[str, ...] = ()

    def skipped(self) -> list[dict[str, object]]:
        """The lines above the heading."""
        named = [] if self.separator_row is None else [self.separator_row]
        return [
            *(remarks.skipped(row, remarks.SEPARATOR_ROW) for row in named),
            *(remarks.skipped(row, remarks.ABOVE_HEADING) for row in self.above),
        ]


def json_account(draft: Draft, rows: int, media_type: str) -> dict[str, Any]:
    """How a batch of JSON was understood."""
    return {
        "media_type": media_type,
        "shape": "long",
        "encoding": "utf-8",
        "byte_order_mark": False,
        "delimiter": None,
        "decimal_mark": ".",
        "header_row": None,
        "sheet": None,
        "columns": [],
        "rows": rows,
        **_names(draft),
        "blanks_read_as_lost": 0,
        "not_scanned": 0,
        "marks": {},
        "skipped": [],
        "notes": [],
    }


def table_account(
    source: Source,
    table: TextTable,
    found: TableDraft,
    *,
    columns: list[dict[str, Any]],
    notes: Sequence[str],
) -> dict[str, Any]:
    """How a table was understood.

    In the long form an empty value says that nothing was found; in the wide form it is read that way.
    """
    state, is_wide = found.cells.state, table.heading.form == WIDE
    empty = [remarks.skipped(int(row), remarks.EMPTY_ROW) for row in table.empty_rows]
    return {
        "media_type": source.media_type,
        "shape": table.heading.form,
        "encoding": source.encoding,
        "byte_order_mark": source.byte_order_mark,
        "delimiter": table.heading.separator,
        "decimal_mark": found.manner.decimal_mark,
        "header_row": table.heading.row,
        "sheet": source.sheet,
        "columns": columns,
        "rows": len(table.rows),
        **_names(found.draft),
        "blanks_read_as_lost": int((state == State.BLANK).sum()) if is_wide else 0,
        "not_scanned": int((state == State.NOT_SCANNED).sum()),
        "marks": found.cells.marks,
        "skipped": [*source.skipped(), *found.skipped, *empty],
        "notes": [*source.notes, *notes, *_spaces(table)],
    }


def headings_told(heading: Heading, runs: Sequence[RunColumn] = ()) -> list[dict[str, Any]]:
    """What each heading was taken for: a column of the long form, or a run."""
    of_run = {run.place: run for run in runs}
    return [
        _heading_told(given, name, unit, of_run.get(place))
        for place, (given, name, unit) in enumerate(
            zip(heading.given, heading.names, heading.units, strict=True)
        )
    ]


def _heading_told(given: str, name: str, unit: str | None, run: RunColumn | None) -> dict[str, Any]:
    if run is not None:
        return remarks.read_as(given, remarks.RUN, unit=unit, element=run.element, round=run.round)
    if name in LONG_HEADINGS:
        return remarks.read_as(given, remarks.COLUMN, unit=unit, column=name)
    return remarks.read_as(given, remarks.NOT_READ, unit=unit)


def _spaces(table: TextTable) -> list[str]:
    count = table.other_spaces
    return [f"no-break spaces were read as plain ones ({count} cells)"] if count else []


def _names(draft: Draft) -> dict[str, int]:
    return {
        "elements": draft.element.count(),
        "channels": draft.channel.count(),
    }
