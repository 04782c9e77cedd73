"""The faults of one batch: all are counted, the first hundred are kept, in order of their rows."""

import re
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from heapq import nsmallest

import numpy as np
from numpy.typing import NDArray

from service.errors import MOST_FAULTS, BadInput, Fault
from service.intake.special_cells import shown
from service.trial.places import brief
from service.trial.readings_table import fault_of_reading

BEFORE_ALL_ROWS = -1
READING = re.compile(r"#/readings/(\d+)(?:/|$)", re.ASCII)
ROOM = 20
"""How many times as many faults are kept at most before those that would not be listed are dropped."""

Told = tuple[str, str, object]


class FaultList:
    """Collects the faults of a batch; `in_json` tells whether rows are entries of a JSON list or lines.

    `count` is the number of all faults, `rows_lost` that of rows of which nothing could be read.
    `heading_faulty` tells that some columns may not be what they were taken for, `unit_faulty` that values
    may be in another unit than the meter's. `labels` says how columns are headed in the file where that is
    not their name.
    """

    def __init__(self, *, in_json: bool, most: int = MOST_FAULTS):
        self.count = 0
        self.rows_lost = 0
        self.heading_faulty = False
        self.unit_faulty = False
        self.labels: Mapping[str, str] = {}
        self._rows: defaultdict[str, list[NDArray[np.int64]]] = defaultdict(list)
        self._in_json = in_json
        self._most = min(most, MOST_FAULTS)
        self._kept: list[tuple[int, int, Fault]] = []

    def add(self, faults: Iterable[Fault]) -> None:
        """Note faults as they are; those without a row stand before those of the readings."""
        for plain in faults:
            fault = self._labelled(plain)
            self._kept.append((_row_of(fault), self.count, fault))
            self.count += 1
            if len(self._kept) > ROOM * self._most:
                self._kept = nsmallest(self._most, self._kept)

    def lost(self, fault: Fault) -> None:
        """Note the fault of a row of which nothing can be read."""
        self.rows_lost += 1
        self.add([fault])

    def lost_many(self, number: int, tell: Callable[[int], Fault]) -> None:
        """Note as many rows of which nothing can be read, in their order; `tell` gives the fault of the i-th.
        It is asked for no more than can be listed."""
        self.rows_lost += number
        self.add_many(number, tell)

    def add_many(self, number: int, tell: Callable[[int], Fault]) -> None:
        """Note as many faults, in the order of their rows; `tell` is asked for no more than can be listed."""
        self.add(map(tell, range(min(number, self._most))))
        self.count += max(0, number - self._most)

    def at_rows(self, rows: NDArray[np.int64], tell: Callable[[int], Told]) -> None:
        """Note a fault for each of the rows (ascending); `tell` gives column, detail and what was given for
        the i-th of them. It is asked for no more than can be listed. The rows are remembered under the first
        column that it gives: all are of one, or of columns of values."""
        for index, row in enumerate(rows[: self._most].tolist()):
            column, detail, given = tell(index)
            self.add(
                [fault_of_reading(row, column, detail, given=brief(_shown(given)), in_json=self._in_json)]
            )
            if index == 0:
                self._rows[column].append(rows)
        self.count += max(0, len(rows) - self._most)

    def _labelled(self, fault: Fault) -> Fault:
        """The fault with its column as it is headed in the file."""
        label = self.labels.get(fault.column or "")
        return fault if label is None or fault.row is None else replace(fault, column=label)

    def rows_of(self, columns: Collection[str]) -> NDArray[np.int64]:
        """The rows in which one of the columns has a fault."""
        found = [rows for column in columns for rows in self._rows.get(column, ())]
        return np.unique(np.concatenate([*found, np.empty(0, dtype=np.int64)]))

    def raise_any(self) -> None:
        """Raise BadInput where there is any fault."""
        if self.count:
            first = nsmallest(self._most, self._kept)
            raise BadInput([fault for _, _, fault in first], count=self.count)


def _shown(given: object) -> object:
    return shown(given) if isinstance(given, str) else given


def _row_of(fault: Fault) -> int:
    """The line of a fault, or the place in the list of the reading that its pointer names."""
    if fault.row is not None:
        return fault.row
    place = READING.match(fault.pointer or "")
    return int(place[1]) if place else BEFORE_ALL_ROWS
