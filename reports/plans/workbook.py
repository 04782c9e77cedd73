"""The table to fill in as a workbook: sheets `readings`, `allowed values` and `runs`.

Only the sheet `readings` is read when the workbook is sent back; the others are for whoever fills it in.
Spreadsheets cut names of sheets at 31 letters, titles of messages at 32 and messages at 225 (from memory).
"""

import io
from datetime import datetime
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as
from reports.plans.cells import HEADINGS, NOT_SCANNED, NOTHING_FOUND, channel_rows, heading
from reports.plans.timeless_zip import EARLIEST, TimelessZip
from reports.spreadsheet_text import quoted
from reports.wording.vocabulary import UNITS

BLANK_ROWS: Final = 60
"""Rows that take channels where the trial names none, and that stay free behind those it names."""
MARKS: Final = (
    (NOTHING_FOUND, marked("scanned, and nothing was found")),
    (NOT_SCANNED, marked("this channel was not scanned in this run")),
)
"""What is typed where there is no number, and what it means."""


def render(document: doc.Document) -> bytes:
    """The workbook, which carries no time: the same plan is the same bytes."""
    from openpyxl import Workbook  # type: ignore[import-untyped] # the library has no types
    from openpyxl.writer.excel import ExcelWriter  # type: ignore[import-untyped] # no types either

    book = Workbook()
    book.properties.created = datetime(*EARLIEST)
    book.properties.modified = book.properties.created
    _readings(book.active, document)
    _allowed(book.create_sheet(say_as("sheet, at most 31 letters", "allowed values")), document)
    _runs(book.create_sheet(say_as("sheet, at most 31 letters", "runs")), document)
    content = io.BytesIO()
    ExcelWriter(book, TimelessZip(content, "w")).save()
    return content.getvalue()


def _readings(sheet: Any, document: doc.Document) -> None:
    sheet.title = "readings"
    rows = channel_rows(document)
    _write(sheet, [heading(document), *rows])
    _head(sheet, wide={1: 22, 2: 12}, otherwise=13)
    sheet.freeze_panes = "C2"
    sheet.page_setup.orientation = "landscape"
    sheet.print_title_rows = "1:1"
    if document["order"]:
        sheet.add_data_validation(_validation(sheet, document, len(rows)))


def _validation(sheet: Any, document: doc.Document, channels: int) -> Any:
    """Numbers within the scale, or one of the marks; anything else is refused as it is typed."""
    from openpyxl.utils import get_column_letter  # type: ignore[import-untyped] # the library has no types
    from openpyxl.worksheet.datavalidation import (  # type: ignore[import-untyped] # no types either
        DataValidation,
    )

    first = f"{get_column_letter(len(HEADINGS) + 1)}2"
    last = f"{get_column_letter(sheet.max_column)}{1 + max(channels, BLANK_ROWS)}"
    low, high = (document["allowed"][name] for name in ("lowest", "highest"))
    marks = ",".join(f'LOWER(TRIM({first}))="{mark}"' for mark, _ in MARKS)
    number = f"AND(ISNUMBER({first}),{first}>={low:g},{first}<={high:g})"
    validation = DataValidation(
        type="custom", formula1=f"OR({number},{marks})", allow_blank=True, showErrorMessage=True
    )
    validation.errorTitle = say_as("at most 32 letters", "Not a reading")
    validation.error = _refusal(f"{low:g}", f"{high:g}")
    validation.add(f"{first}:{last}")
    return validation


def _refusal(low: str, high: str) -> str:
    """What a spreadsheet says to a cell that holds neither."""
    return say_as(
        "at most 225 letters",
        "A number from {low} to {high}, {none}, or {not_scanned}.",
        low=low,
        high=high,
        none=NOTHING_FOUND,
        not_scanned=NOT_SCANNED,
    )


def _allowed(sheet: Any, document: doc.Document) -> None:
    """What may stand in a cell, and how the workbook is sent back."""
    unit, allowed = UNITS[document["trial"]["meter"]["unit"]], document["allowed"]
    low, high = (numerals.plain(allowed[name]) for name in ("lowest", "highest"))
    step = allowed["resolution"]
    rows = [
        [say("what is typed"), say("what it means")],
        [
            say("{low} to {high}", low=low, high=high),
            say("the reading, in {unit}, without a unit", unit=unit.name),
        ],
        *([_step(step)] if step else []),
        *([mark, say(meaning)] for mark, meaning in MARKS),
        [say("a blank cell"), say("scanned, and nothing was found, as {mark}", mark=NOTHING_FOUND)],
        [say("a blank column"), say("the run was not made")],
        [say("a blank row"), say("the channel was not scanned at all")],
        *_headings_told(document),
    ]
    _write(sheet, [[quoted(cell) for cell in row] for row in rows])
    _head(sheet, wide={1: 20, 2: 74}, otherwise=12)


def _step(step: float) -> list[str]:
    return [say("step"), say("{step}: what the meter shows, not rounded further", step=numerals.plain(step))]


def _headings_told(document: doc.Document) -> list[list[str]]:
    """What stands in the columns on the left and in a heading, and the number to give with the readings."""
    channel, rf_channel = HEADINGS
    return [
        [channel, say("as the receiver lists it, each once")],
        [
            rf_channel,
            say("the RF channel from the receiver's signal details; not the number it displays"),
        ],
        [
            say("a column"),
            say("one run, in the order in which they are made; headed element@round; do not rename"),
        ],
        [
            "planned_rounds",
            say("{rounds}: say so when you ask for the verdict", rounds=document["trial"]["planned_rounds"]),
        ],
    ]


def _runs(sheet: Any, document: doc.Document) -> None:
    """The runs in order, with room for what else is worth keeping."""
    labels = {entry["id"]: entry["label"] for entry in document["elements"]}
    rows = [
        [
            number,
            run["round"],
            run["place"],
            quoted(run["element"]),
            quoted(labels[run["element"]]),
        ]
        for number, run in enumerate(document["order"], start=1)
    ]
    _write(sheet, [_run_columns(), *rows])
    _head(sheet, wide={4: 20, 5: 32, 7: 22, 10: 40}, otherwise=12)
    sheet.freeze_panes = "A2"


def _run_columns() -> list[str]:
    """What each column of the sheet of runs takes; nobody reads it back."""
    return [
        say("run"),
        say("round"),
        say_as("in a round", "place"),
        say("element"),
        say_as("of an element", "label"),
        say_as("of day", "time"),
        say("weather"),
        say("joints checked"),
        say("aim checked"),
        say("remarks"),
    ]


def _write(sheet: Any, rows: list[list[Any]]) -> None:
    """The cells; a text is a text, whatever it begins with."""
    for number, row in enumerate(rows, start=1):
        for column, value in enumerate(row, start=1):
            if value == "":
                continue
            cell = sheet.cell(number, column, value)
            if isinstance(value, str):
                cell.data_type, cell.number_format = "s", "@"


def _head(sheet: Any, *, wide: dict[int, float], otherwise: float) -> None:
    """A bold heading that wraps, and columns wide enough to type in."""
    from openpyxl.styles import Alignment, Font  # type: ignore[import-untyped] # the library has no types
    from openpyxl.utils import get_column_letter

    for column in range(1, sheet.max_column + 1):
        sheet.cell(1, column).font = Font(bold=True)
        sheet.cell(1, column).alignment = Alignment(wrap_text=True, vertical="top")
        sheet.column_dimensions[get_column_letter(column)].width = wide.get(column, otherwise)
