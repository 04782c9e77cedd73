"""Readings as a JSON list: checked column by column, each fault with its pointer."""

import math
from collections.abc import Sequence
from operator import itemgetter
from types import NoneType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.errors import Fault
from service.intake.column_check import ColumnCheck
from service.intake.columns import Codes, Column, column_of, empty_column
from service.intake.draft import NO_ROUND, Draft, no_rounds
from service.intake.faults import FaultList
from service.intake.values import State
from service.trial.places import brief, pointer
from service.trial.trial_entries import HIGHEST_ROUND

FIELDS = ("element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting")
KNOWN = frozenset(FIELDS)
LARGEST = 10**300
WANTED = f"A reading has {', '.join(FIELDS)}; element and channel are required."


def json_draft(rows: Sequence[Any], faults: FaultList, *, longest: int, lines: Codes | None = None) -> Draft:
    """The readings of the list; `longest` is the length that a name may have.

    `lines` are the lines of the file in which the entries stand, None where they are entries of a JSON list.
    """
    return _JsonRows(rows, faults, longest, lines=lines).draft()


class _JsonRows:
    def __init__(self, rows: Sequence[Any], faults: FaultList, longest: int, *, lines: Codes | None):
        self._faults = faults
        self._in_list = lines is None
        places = np.arange(len(rows)) if lines is None else lines
        self._rows, self._places = rows, places.astype(np.int64)
        if set(map(type, rows)) - {dict}:
            kept = [place for place, row in enumerate(rows) if type(row) is dict]
            self._refuse_others(rows, places)
            self._rows, self._places = [rows[place] for place in kept], self._places[kept]
        self._check = ColumnCheck(self._places, faults, longest=longest, of_table=False)
        shapes = set(map(tuple, self._rows))
        self._everywhere = frozenset.intersection(*map(frozenset, shapes)) if shapes else frozenset()
        self._somewhere = frozenset().union(*shapes)
        if not self._somewhere <= set(FIELDS):
            self._refuse_keys()

    def draft(self) -> Draft:
        """The readings, column by column."""
        value, state = self._values()
        self._received(state)
        return Draft(
            row=self._places,
            element=self._names("element", required=True),
            channel=self._names("channel", required=True),
            value=value,
            state=state,
            round=self._rounds(),
            rf_channel=self._names("rf_channel"),
            at=self._check.times(self._texts("at")),
            run=self._names("run"),
            mounting=self._names("mounting"),
            heading=lambda _: "value",
        )

    def _refuse_others(self, rows: Sequence[Any], places: Codes) -> None:
        """Entries that are no objects."""
        detail = f"A reading is an object. {WANTED}"
        others = [index for index, row in enumerate(rows) if type(row) is not dict]

        def told(index: int) -> Fault:
            return self._fault(int(places[others[index]]), None, detail, brief(rows[others[index]]))

        self._faults.lost_many(len(others), told)

    def _refuse_keys(self) -> None:
        """Keys that no reading has."""
        bad = [
            (index, key)
            for index, row in enumerate(self._rows)
            if not row.keys() <= KNOWN
            for key in sorted(row.keys() - KNOWN)
        ]

        def told(index: int) -> Fault:
            place, key = bad[index]
            return self._fault(int(self._places[place]), key, f"This key is not known. {WANTED}", None)

        self._faults.add_many(len(bad), told)

    def _fault(self, place: int, key: str | None, detail: str, given: object) -> Fault:
        """A fault of a whole entry or of one of its keys."""
        if self._in_list:
            steps = ("readings", place) if key is None else ("readings", place, key)
            return Fault(detail, pointer=pointer(*steps), given=given)
        return Fault(detail, row=place, column=None if key is None else key[:80], given=given)

    def _field(self, name: str, kinds: set[type], detail: str) -> list[Any] | None:
        """A field of every reading, None where it is left out or refused; None where no reading has it."""
        if name not in self._somewhere:
            return None
        if name in self._everywhere:
            values = list(map(itemgetter(name), self._rows))
        else:
            values = [row.get(name) for row in self._rows]
        if set(map(type, values)) <= kinds | {NoneType}:
            return values
        good = [value if type(value) in kinds else None for value in values]
        bad = [now is None and was is not None for now, was in zip(good, values, strict=True)]
        self._check.refuse(np.array(bad), lambda row: (name, detail, values[row]))
        return good

    def _texts(self, name: str) -> Column:
        values = self._field(name, {str}, "Give text in quotation marks, or leave it out.")
        if values is None:
            return empty_column(len(self._rows))
        return column_of(values)

    def _names(self, name: str, *, required: bool = False) -> Column:
        column = self._texts(name)
        if required and (column.codes < 0).any() | ("" in column.texts):
            missing = [row.get(name) in (None, "") for row in self._rows]
            detail = f"Give the {name} of every reading."
            self._check.refuse(np.array(missing, dtype=bool), lambda _: (name, detail, None))
        return self._check.names(column, name)

    def _rounds(self) -> Codes:
        detail = f"Give the round as a whole number from 1 to {HIGHEST_ROUND}."
        values = self._field("round", {int, float}, detail)
        if values is None:
            return no_rounds(len(self._rows))
        rounds = _floats(values)
        whole = (rounds >= 1) & (rounds <= HIGHEST_ROUND) & (rounds == np.floor(rounds))
        bad = ~np.isnan(rounds) & ~whole
        self._check.refuse(bad, lambda row: ("round", detail, values[row]))
        return np.where(bad | np.isnan(rounds), NO_ROUND, rounds).astype(np.int64)

    def _values(self) -> tuple[NDArray[np.float64], NDArray[np.int8]]:
        detail = "Give a number, or null where nothing was found; leave the reading out where not scanned."
        values = self._field("value", {int, float}, detail)
        if "value" not in self._everywhere:
            self._refuse_unsaid(detail)
        if values is None:
            values = [None] * len(self._rows)
        numbers = _floats(values)
        state = np.where(np.isnan(numbers), State.NOTHING_FOUND, State.NUMBER).astype(np.int8)
        if self._faults.rows_of({"value"}).size:
            faulty = [row.get("value") is not value for row, value in zip(self._rows, values, strict=True)]
            state[np.array(faulty, dtype=bool)] = State.FAULTY
        return numbers, state

    def _refuse_unsaid(self, detail: str) -> None:
        """Readings that leave the value out and do not say whether anything was found."""
        unsaid = ["value" not in row and type(row.get("received")) is not bool for row in self._rows]
        self._check.refuse(np.array(unsaid, dtype=bool), lambda _: ("value", detail, None))

    def _received(self, state: NDArray[np.int8]) -> None:
        values = self._field("received", {bool}, "Give true or false.")
        if values is not None:
            texts = [None if value is None else str(value) for value in values]
            self._check.received(column_of(texts), state)


def _floats(values: Sequence[Any]) -> NDArray[np.float64]:
    """Numbers and None as an array with NaN for None; what is too large for a double is infinite."""
    try:
        numbers = np.array(values, dtype=np.float64)
    except OverflowError:
        bounded = [value if value is None or abs(value) < LARGEST else math.inf for value in values]
        numbers = np.array(bounded, dtype=np.float64)
    return numbers + 0.0  # makes -0.0 the 0.0 that it equals
