"""The cells of a sheet, row by row, as texts: what a reader of the sheet would see in them.

After ECMA-376, part 1, section 18.3. Numbers become the shortest text that gives the same number; dates,
errors and formulas that were never worked out become special cells.
"""

import math
import re
from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from service.errors import TooLarge
from service.intake.special_cells import DATE as DATE_CELL
from service.intake.special_cells import ERROR, FORMULA, special
from service.intake.workbook_archive import Archive, Handlers, broken
from service.intake.workbook_parts import DATE, NUMBER, PERCENT, Parts, Sheet, local, unescaped

PLACE = re.compile(r"([A-Z]{1,3})(\d{1,7})", re.ASCII)
MOST_COLUMNS, MOST_ROWS = 16_384, 1_048_576
MOST_GAPS = 5_000_000
"""Cells passed over before others of their rows; they cost nothing to send."""
DAY_0, DAY_0_OF_1904 = datetime(1899, 12, 30), datetime(1904, 1, 1)  # a sheet knows no zone
MOST_DAYS = 2_958_465
"""31 December 9999."""
TRUE = {"1": "true", "0": "false"}

Row = tuple[int, list[str]]


class SheetCells:
    """Reads one sheet; `rows` gives each row that has cells. Afterwards `merged` are the ranges merged,
    `hidden_rows` and `hidden_columns` what is hidden, and `plain_numbers` the texts that stand for numbers
    and nowhere in the sheet for a text."""

    def __init__(self, archive: Archive, sheet: Sheet, parts: Parts, *, most_cells: int):
        self.merged: list[str] = []
        self.hidden_rows: list[int] = []
        self.hidden_columns: list[str] = []
        self._numbers: set[str] = set()
        self._written: set[str] = set()
        self._parts = parts
        self._sheet = sheet
        self._most = most_cells
        self._cells = 0
        self._gaps = 0
        self._done: list[Row] = []
        self._row, self._column = 0, 0
        self._now: list[str] = []
        self._cell: dict[str, str] = {}
        self._formula, self._aside = False, False
        self._pieces: list[str] | None = None
        self._text: list[str] = []
        handlers: Handlers = {
            "StartElementHandler": self._start,
            "EndElementHandler": self._end,
            "CharacterDataHandler": self._data,
        }
        self._parse = archive.parse(sheet.part, handlers)

    @property
    def plain_numbers(self) -> frozenset[str]:
        """The texts of cells that hold a number, without those that some cell holds as a text."""
        return frozenset(self._numbers - self._written)

    def rows(self) -> Iterator[Row]:
        """Each row that has cells, with its number from 1; ascending."""
        going = True
        while going:
            going = self._parse.step()
            yield from self._done
            self._done.clear()

    def _start(self, name: str, given: dict[str, str]) -> None:
        kind = local(name)
        if kind == "c":
            self._begin_cell(given)
        elif kind in ("v", "t"):
            self._pieces = None if self._aside else self._text
        elif kind == "f":
            self._formula = True
        elif kind == "row":
            self._begin_row(given)
        elif kind == "rPh":
            self._aside = True
        elif kind == "mergeCell":
            self.merged.append(given.get("ref", ""))
        elif kind == "col" and given.get("hidden") in TRUE and TRUE[given["hidden"]] == "true":
            self.hidden_columns.append(f"{given.get('min')} to {given.get('max')}")

    def _data(self, data: str) -> None:
        if self._pieces is not None:
            self._pieces.append(data)

    def _end(self, name: str) -> None:
        kind = local(name)
        if kind in ("v", "t"):
            self._pieces = None
        elif kind == "c":
            self._now[self._column - 1] = self._shown("".join(self._text))
        elif kind == "rPh":
            self._aside = False
        elif kind == "row":
            self._done.append((self._row, self._now))

    def _begin_row(self, given: dict[str, str]) -> None:
        number = self._whole(given.get("r"), self._row + 1)
        if not self._row < number <= MOST_ROWS:
            raise broken(self._sheet.part)
        self._row, self._column, self._now = number, 0, []
        if TRUE.get(given.get("hidden", "")) == "true":
            self.hidden_rows.append(number)

    def _begin_cell(self, given: dict[str, str]) -> None:
        place = PLACE.fullmatch(given["r"]) if "r" in given else None
        column = self._column + 1 if place is None else column_number(place[1])
        if not self._column < column <= MOST_COLUMNS:
            raise broken(self._sheet.part)
        self._cells += column - self._column
        self._gaps += column - self._column - 1
        if self._cells > self._most or self._gaps > MOST_GAPS:
            raise TooLarge(
                f"The sheet {self._sheet.name[:80]} has more cells than can be taken, at most {self._most}, "
                f"of them {min(MOST_GAPS, self._most)} that are left out before others. Copy the readings "
                "alone into a new workbook, or send them as CSV."
            )
        self._now += [""] * (column - self._column)
        self._column, self._cell, self._formula, self._text = column, given, False, []

    def _whole(self, text: str | None, otherwise: int) -> int:
        return int(text) if text is not None and text.isdigit() and len(text) < 9 else otherwise

    def _shown(self, text: str) -> str:
        """The text of the cell that ends here."""
        kind = self._cell.get("t", "n")
        if self._formula and not text and kind != "str":
            return special(FORMULA, "=")
        if not text:
            return ""
        if kind == "n":
            return self._number(text)
        if kind == "s":
            text = self._shared(text)
        elif kind in ("inlineStr", "str"):
            text = unescaped(text)
        else:
            return self._other(kind, text)
        self._written.add(text.strip())
        return text

    def _other(self, kind: str, text: str) -> str:
        if kind == "b":
            return TRUE.get(text, text)
        return special(ERROR if kind == "e" else DATE_CELL, text)

    def _shared(self, text: str) -> str:
        place = self._whole(text, len(self._parts.texts))
        if place >= len(self._parts.texts):
            raise broken(self._sheet.part)
        return self._parts.texts[place]

    def _number(self, text: str) -> str:
        try:
            number = float(text)
        except ValueError as error:
            raise broken(self._sheet.part) from error
        style = self._whole(self._cell.get("s"), 0)
        shows = self._parts.shows[style] if style < len(self._parts.shows) else NUMBER
        if shows == DATE:
            return special(DATE_CELL, date_shown(number, from_1904=self._parts.dates_from_1904))
        shown = number_shown(number)
        if shows == PERCENT and math.isfinite(number):
            shown = f"{(Decimal(shown) * 100).normalize():f} %"
        self._numbers.add(shown)
        return shown


def column_number(letters: str) -> int:
    """The number of a column from 1: A is 1, AA is 27."""
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


def number_shown(number: float) -> str:
    """The shortest text that gives the number, a whole one without a point."""
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)


def date_shown(days: float, *, from_1904: bool) -> str:
    """The date that a number of days stands for (18.17.4), as year, month and day, with the time where there
    is one."""
    if not 0 <= days <= MOST_DAYS:
        return number_shown(days)
    moment = (DAY_0_OF_1904 if from_1904 else DAY_0) + timedelta(seconds=round(days * 86_400))
    return moment.strftime("%Y-%m-%d" if days == int(days) else "%Y-%m-%d %H:%M:%S")
