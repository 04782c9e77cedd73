"""The readings of a kept trial: its batches put together, corrections in place of what they correct."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.trial.reading_columns import ReadingColumns, cells, scans, stacked

SUMMED = ("rows", "blanks_read_as_lost", "not_scanned")
MOST_SKIPPED = 100


def put_together(parts: Sequence[ReadingColumns], corrects: Sequence[bool]) -> ReadingColumns:
    """The parts in order as one table; `corrects` tells which take the place of earlier readings.

    A correction replaces every earlier reading of the cells that it holds.
    """
    whole = stacked(parts)
    part = np.repeat(np.arange(len(parts)), [len(columns) for columns in parts])
    stands = np.ones(len(whole), dtype=bool)
    if any(corrects):
        cell = cells(whole)
        for index in np.flatnonzero(corrects):
            stands &= ~((part < index) & np.isin(cell, cell[part == index]))
    return whole.rows(stands)


def held_already(stored: Sequence[ReadingColumns], new: ReadingColumns) -> list[NDArray[np.int64]]:
    """For each stored part, the positions in `new` of readings of scans that it holds."""
    return _shared(stored, new, scans)


def replaced_by(stored: Sequence[ReadingColumns], new: ReadingColumns) -> list[NDArray[np.int64]]:
    """For each stored part, the positions in `new` of readings of cells that it holds."""
    return _shared(stored, new, cells)


def read_as_of(accounts: Sequence[Mapping[str, Any]], columns: ReadingColumns) -> dict[str, Any]:
    """How all batches were understood: what they have in common, null where they differ, counts summed."""
    if len(accounts) == 1:
        return dict(accounts[0])
    told: dict[str, Any] = {}
    for name in accounts[0] if accounts else ():
        values = [account.get(name) for account in accounts]
        told[name] = values[0] if all(value == values[0] for value in values) else None
    for name in SUMMED:
        told[name] = sum(account.get(name, 0) for account in accounts)
    told["shape"] = told.get("shape") or "long"
    told["columns"] = told.get("columns") or []
    told["marks"] = _summed(account.get("marks", {}) for account in accounts)
    told["skipped"] = [entry for account in accounts for entry in account.get("skipped", [])][:MOST_SKIPPED]
    told["elements"] = len(np.unique(columns.arrays["element"]))
    told["channels"] = len(np.unique(columns.arrays["channel"]))
    return told


def _summed(counts: Any) -> dict[str, int]:
    total: dict[str, int] = {}
    for count in counts:
        for name, number in count.items():
            total[name] = total.get(name, 0) + number
    return total


def _shared(stored: Sequence[ReadingColumns], new: ReadingColumns, numbers: Any) -> list[NDArray[np.int64]]:
    number = numbers(stacked([*stored, new]))
    ends = np.cumsum([len(part) for part in stored])
    *old, fresh = np.split(number, ends)
    return [np.flatnonzero(np.isin(fresh, part)) for part in old]
