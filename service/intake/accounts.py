"""The account of how a batch was understood, as far as intake knows it."""

from typing import Any

from service.intake.draft import Draft
from service.intake.headings import WIDE
from service.intake.text_lines import TextLines
from service.intake.text_table import TextTable
from service.intake.value_cells import ValueCells
from service.intake.values import State
from service.intake.wide_form import RunColumn

EMPTY_ROW = "the row is empty"


def json_account(draft: Draft, rows: int) -> dict[str, Any]:
    """How a JSON batch was understood."""
    return {
        "media_type": "application/json",
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
    }


def table_account(
    media_type: str, lines: TextLines, table: TextTable, *, draft: Draft, cells: ValueCells
) -> dict[str, Any]:
    """How a table was understood; columns of runs and what was skipped are added by the caller.

    In the long form an empty value says that nothing was found; in the wide form it is read that way.
    """
    return {
        "media_type": media_type,
        "shape": table.heading.form,
        "encoding": "utf-8",
        "byte_order_mark": lines.byte_order_mark,
        "delimiter": table.heading.separator,
        "decimal_mark": cells.decimal_mark,
        "header_row": table.heading.row,
        "sheet": None,
        "columns": [{"heading": name, "read_as": name} for name in table.heading.names],
        "rows": len(table.rows),
        **_names(draft),
        "blanks_read_as_lost": int((cells.state == State.BLANK).sum()) if table.heading.form == WIDE else 0,
        "not_scanned": int((cells.state == State.NOT_SCANNED).sum()),
        "marks": cells.marks,
        "skipped": [{"row": int(row), "why": EMPTY_ROW} for row in table.empty_rows],
    }


def run_headings(columns: list[RunColumn], names: tuple[str, ...]) -> list[dict[str, str]]:
    """What each heading of a wide table was taken for."""
    runs = {column.heading: f"{column.element}, round {column.round}" for column in columns}
    told = {name: name for name in names} | runs
    return [{"heading": name, "read_as": told[name]} for name in names]


def _names(draft: Draft) -> dict[str, int]:
    return {
        "elements": draft.element.count(),
        "channels": draft.channel.count(),
    }
