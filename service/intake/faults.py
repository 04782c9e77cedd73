"""The faults of one batch: all are counted, the first hundred are kept, in order of their rows."""

from collections.abc import Callable, Iterable
from heapq import nsmallest

import numpy as np
from numpy.typing import NDArray

from service.errors import MOST_FAULTS, BadInput, Fault
from service.trial.places import brief
from service.trial.readings_table import fault_of_reading

BEFORE_ALL_ROWS = -1
ROOM = 20
"""How many times as many faults are kept at most before those that would not be listed are dropped."""

Told = tuple[str, str, object]


class FaultList:
    """Collects the faults of a batch; `in_json` tells whether rows are entries of a JSON list or lines.

    `count` is the number of all faults, `of_rows` of those that have a row, `columns` are those of readings
    with a fault.
    """

    def __init__(self, *, in_json: bool, most: int = MOST_FAULTS):
        self.count = 0
        self.columns: set[str] = set()
        self.of_rows = 0
        self._in_json = in_json
        self._most = min(most, MOST_FAULTS)
        self._kept: list[tuple[int, int, Fault]] = []

    def add(self, faults: Iterable[Fault], *, row: int = BEFORE_ALL_ROWS) -> None:
        """Note faults as they are; without a row they stand before those of the readings."""
        for fault in faults:
            self._kept.append((row, self.count, fault))
            self.count += 1
            self.of_rows += row != BEFORE_ALL_ROWS
            if len(self._kept) > ROOM * self._most:
                self._kept = nsmallest(self._most, self._kept)

    def at(self, row: int, column: str, detail: str, *, given: object = None) -> None:
        """Note one fault of a reading."""
        self.columns.add(column)
        fault = fault_of_reading(row, column, detail, given=brief(given), in_json=self._in_json)
        self.add([fault], row=row)

    def at_rows(self, rows: NDArray[np.int64], tell: Callable[[int], Told]) -> None:
        """Note a fault for each of the rows (ascending); `tell` gives column, detail and what was given for
        the i-th of them. It is asked for no more than can be listed."""
        for index, row in enumerate(rows[: self._most]):
            column, detail, given = tell(index)
            self.at(int(row), column, detail, given=given)
        self.count += max(0, len(rows) - self._most)
        self.of_rows += max(0, len(rows) - self._most)

    def raise_any(self) -> None:
        """Raise BadInput where there is any fault."""
        if self.count:
            first = nsmallest(self._most, self._kept)
            raise BadInput([fault for _, _, fault in first], count=self.count)
