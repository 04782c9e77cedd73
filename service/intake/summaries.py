"""Rows and columns that sum the others up: skipped where their numbers are found to do so, else refused.

The numbers are compared as they are written, before any change of unit: the manner given here has no shift.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from service.intake.columns import Column
from service.intake.special_cells import shown
from service.intake.value_cells import Manner, value_cells
from service.intake.values import State

NAMES = (
    "total",
    "totals",
    "sum",
    "sums",
    "subtotal",
    "grand total",
    "average",
    "averages",
    "avg",
    "mean",
    "means",
)
CLOSE = 1e-9
"""How far a sum may lie from the readings' own, as a share of it, beside the rounding of its digits."""

Numbers = NDArray[np.float64]
Flags = NDArray[np.bool_]


def is_summary(name: str) -> bool:
    """Whether a name says that what stands there is made of the rest."""
    return name.strip().rstrip(":").casefold() in NAMES


def kinds_of_rows(cells: Sequence[Column], rows: Flags, manner: Manner) -> dict[int, str]:
    """For each flagged row "sum" or "mean" where it is that of the others in every column, else ""."""
    numbers = _numbers(cells, ~rows, manner)
    return {
        row: _kind([column.text(row) or "" for column in cells], numbers, manner)
        for row in np.flatnonzero(rows).tolist()
    }


def kinds_of_columns(cells: Sequence[Column], places: Sequence[int], manner: Manner) -> dict[int, str]:
    """For each of the columns at `places` "sum" or "mean" where it is that of the others in every row, else
    ""."""
    others = [column for place, column in enumerate(cells) if place not in places]
    rows = len(cells[0].codes)
    numbers = _numbers(others, np.ones(rows, dtype=bool), manner).T
    return {
        place: _kind([cells[place].text(row) or "" for row in range(rows)], numbers, manner)
        for place in places
    }


def _numbers(cells: Sequence[Column], rows: Flags, manner: Manner) -> Numbers:
    """The numbers of the rows as rows x columns, NaN where a cell holds none."""
    read = [value_cells(column.codes[rows], list(column.texts), manner).value for column in cells]
    return np.array(read, dtype=np.float64).reshape(len(cells), int(rows.sum())).T


def _kind(written: Sequence[str], numbers: Numbers, manner: Manner) -> str:
    """Whether a line as written is the sum of each column of the numbers, or the mean of each."""
    line = value_cells(np.arange(len(written)), list(written), manner)
    given = np.flatnonzero(line.state == State.NUMBER)
    if (line.state == State.FAULTY).any() or not given.size:
        return ""
    sums, counts = np.nansum(numbers[:, given], axis=0), np.isfinite(numbers[:, given]).sum(axis=0)
    slack = np.array([_half_a_digit(written[place]) for place in given.tolist()])
    if _agree(line.value[given], sums, slack):
        return "sum"
    is_mean = counts.all() and _agree(line.value[given], sums / counts, slack)
    return "mean" if is_mean else ""


def _agree(written: Numbers, made: Numbers, slack: Numbers) -> bool:
    return bool((np.abs(written - made) <= slack + CLOSE * np.maximum(1.0, np.abs(made))).all())


def _half_a_digit(text: str) -> float:
    """Half of the last digit that the number shows: what rounding may have changed."""
    digits = "".join(sign for sign in shown(text) if sign.isdigit() or sign in ".,").replace(",", ".")
    return 0.5 * 10.0 ** -len(digits.partition(".")[2])
