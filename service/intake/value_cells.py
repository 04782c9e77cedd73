"""The value cells of a table: numbers and states, each different text looked at once."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from service.intake.columns import Codes
from service.intake.marks import Marks, folded
from service.intake.values import State, decimal_mark, meaning, state_and_number


@dataclass(frozen=True, eq=False)
class ValueCells:
    """Values in meter units (NaN: none) and states of the cells, and how their texts were understood.

    `detail` tells what is wrong with a faulty text, `marks` how many cells hold each mark.
    """

    value: NDArray[np.float64]
    state: NDArray[np.int8]
    detail: Callable[[str], str]
    marks: dict[str, int]


@dataclass(frozen=True)
class Manner:
    """How the values of a file are written: its separator, its unit (None: not known), the marks of it.

    `shift` is what is added to give the unit of the meter. `plain_numbers` are texts of cells that hold a
    number and no text, which have no decimal mark of their own.
    """

    marks: Marks
    separator: str | None = None
    unit: str | None = None
    shift: float = 0.0
    plain_numbers: frozenset[str] = frozenset()
    decimal_mark: str = "."

    def for_texts(self, texts: Iterable[str]) -> "Manner":
        """The manner of a file whose values have these texts."""
        typed = (text for text in texts if text not in self.plain_numbers)
        return replace(self, decimal_mark=decimal_mark(typed, separator=self.separator))


def value_cells(codes: Codes, texts: Sequence[str], manner: Manner) -> ValueCells:
    """Read the cells; `texts[codes[i]]` is the text of cell i, without spaces around it.

    A million texts that are all wrong are only told apart from right ones: why one of them is wrong is found
    out when it is told.
    """
    marks, mark, unit = manner.marks, manner.decimal_mark, manner.unit
    read = [state_and_number(text, marks, mark, unit=unit) for text in texts]
    states = np.array([state for state, _ in read], dtype=np.int8)
    numbers = np.array([number for _, number in read], dtype=np.float64)
    if manner.shift:
        numbers = numbers + manner.shift
    return ValueCells(
        value=numbers[codes],
        state=states[codes],
        detail=lambda text: meaning(text, marks, mark, unit=unit).detail,
        marks=_counted(codes, texts, states),
    )


def _counted(codes: Codes, texts: Sequence[str], states: NDArray[np.int8]) -> dict[str, int]:
    counts = np.bincount(codes, minlength=len(texts))
    counted: dict[str, int] = {}
    for place in np.flatnonzero((states == State.NOTHING_FOUND) | (states == State.NOT_SCANNED)).tolist():
        mark = folded(texts[place])
        counted[mark] = counted.get(mark, 0) + int(counts[place])
    return dict(sorted(counted.items()))
