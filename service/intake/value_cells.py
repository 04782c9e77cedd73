"""The value cells of a table: numbers and states, each different text looked at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.intake.columns import Codes
from service.intake.marks import Marks, folded
from service.intake.values import Meaning, State, decimal_mark, meaning


@dataclass(frozen=True, eq=False)
class ValueCells:
    """Values in meter units (NaN: none) and states of the cells, and how their texts were understood.

    `details` tells for each faulty text what is wrong with it, `marks` how many cells hold each mark.
    """

    value: NDArray[np.float64]
    state: NDArray[np.int8]
    decimal_mark: str
    details: dict[str, str]
    marks: dict[str, int]


def value_cells(codes: Codes, texts: Sequence[str], marks: Marks, *, separator: str) -> ValueCells:
    """Read the cells; `texts[codes[i]]` is the text of cell i, without spaces around it."""
    mark = decimal_mark(texts, separator=separator)
    meanings = [meaning(text, marks, mark) for text in texts]
    numbers = np.array([each.number for each in meanings], dtype=np.float64)
    states = np.array([each.state for each in meanings], dtype=np.int8)
    return ValueCells(
        value=numbers[codes],
        state=states[codes],
        decimal_mark=mark,
        details={text: each.detail for text, each in zip(texts, meanings, strict=True) if each.detail},
        marks=_counted(codes, texts, meanings),
    )


def _counted(codes: Codes, texts: Sequence[str], meanings: Sequence[Meaning]) -> dict[str, int]:
    counts = np.bincount(codes, minlength=len(texts))
    counted: dict[str, int] = {}
    for text, each, count in zip(texts, meanings, counts, strict=True):
        if each.state in (State.NOTHING_FOUND, State.NOT_SCANNED):
            counted[folded(text)] = counted.get(folded(text), 0) + int(count)
    return dict(sorted(counted.items()))
