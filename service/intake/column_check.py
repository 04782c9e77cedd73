"""Columns of names, rounds, times and flags: checked text by text, faults told for every row."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from service.intake.columns import Codes, Column
from service.intake.draft import NO_ROUND
from service.intake.faults import FaultList
from service.intake.special_cells import special_detail
from service.intake.spreadsheet_text import unquoted_text
from service.intake.times import NO_TIME, REMEDY, nanoseconds
from service.intake.values import State
from service.trial.texts import name_fault
from service.trial.trial_entries import HIGHEST_ROUND

YES = ("true", "yes", "1", "y", "t", "received")
NO = ("false", "no", "0", "n", "f", "not received")

Rows = NDArray[np.bool_]


class ColumnCheck:
    """Checks the columns of one batch; `rows` are the lines or list places of its entries.

    `of_table` tells that names may stand behind the apostrophe of an export.
    """

    def __init__(self, rows: Codes, faults: FaultList, *, longest: int, of_table: bool = True):
        self._unquoted = unquoted_text if of_table else str
        self._rows = rows
        self._faults = faults
        self._longest = longest

    def names(self, column: Column, name: str, *, required: bool = False) -> Column:
        """A column of names; empty ones are missing, which is a fault where they are required."""
        named = column.map(lambda text: self._unquoted(text) or None)
        if required:
            self.refuse(named.codes < 0, lambda _: (name, f"Give the {name} of every reading.", None))
        reasons = {
            text: _special_told(name, text) or _name_told(name, text, self._longest) for text in named.texts
        }
        bad = {text for text, reason in reasons.items() if reason is not None}
        if bad:
            self.refuse(named.flags(bad.__contains__), lambda row: _told(name, named, row, reasons))
        return named.map(lambda text: None if text in bad else text) if bad else named

    def rounds(self, column: Column) -> Codes:
        """A column of rounds, NO_ROUND where it is empty."""
        remedy = f"Give the round as a whole number from 1 to {HIGHEST_ROUND}."
        return self._numbers(column, [_round(text) for text in column.texts], NO_ROUND, ("round", remedy))

    def times(self, column: Column) -> Codes:
        """A column of times in nanoseconds, NO_TIME where it is empty."""
        return self._numbers(column, [nanoseconds(text) for text in column.texts], NO_TIME, ("at", REMEDY))

    def received(self, column: Column, state: NDArray[np.int8]) -> None:
        """Whether a column of true and false agrees with the states of the values."""
        yes = column.flags(lambda text: text.casefold() in YES)
        no = column.flags(lambda text: text.casefold() in NO)
        self._refuse_flags(~(yes | no) & column.flags(bool), "Give true or false.", column)
        lost = (state == State.NOTHING_FOUND) | (state == State.BLANK)
        both = "Not received, and a value all the same: take one of the two away."
        self._refuse_flags(no & (state == State.NUMBER), both, column)
        neither = "Received, but without a value: give the value, or false where nothing was found."
        self._refuse_flags(yes & lost, neither, column)
        unscanned = "What was not scanned was neither received nor lost: leave this empty."
        self._refuse_flags((yes | no) & (state == State.NOT_SCANNED), unscanned, column)

    def refuse(self, rows: Rows, tell: Callable[[int], tuple[str, str, object]]) -> None:
        """Note a fault for each of the rows; `tell` gives column, detail and what was given."""
        places = np.flatnonzero(rows)
        self._faults.at_rows(self._rows[places], lambda index: tell(int(places[index])))

    def _refuse_flags(self, rows: Rows, detail: str, column: Column) -> None:
        self.refuse(rows, lambda row: ("received", detail, column.text(row)))

    def _numbers(
        self, column: Column, numbers: list[int | None], missing: int, told: tuple[str, str]
    ) -> Codes:
        bad = [number is None and text != "" for text, number in zip(column.texts, numbers, strict=True)]
        if any(bad):
            flags = np.array([*bad, False], dtype=bool)[column.codes]
            self.refuse(flags, lambda row: (*told, column.text(row)))
        table = [missing if number is None else number for number in (*numbers, None)]
        return np.array(table, dtype=np.int64)[column.codes]


def _round(text: str) -> int | None:
    if text.isascii() and text.isdigit() and len(text) <= 9 and 1 <= int(text) <= HIGHEST_ROUND:
        return int(text)
    return None


def _special_told(name: str, text: str) -> str | None:
    """Why the text of a special cell is no name; a boolean or a number is one."""
    detail = special_detail(text)
    return None if detail is None else f"The {name} is missing. {detail}"


def _name_told(name: str, text: str, longest: int) -> str | None:
    reason = name_fault(text, longest)
    return None if reason is None else f"The {name} {reason}."


def _told(name: str, column: Column, row: int, reasons: dict[str, str | None]) -> tuple[str, str, object]:
    text = column.text(row) or ""
    return name, reasons.get(text) or "", text
