"""The value cells of a table: numbers and states, each different text looked at once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

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
    details: dict[str, str]
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
    """Read the cells; `texts[codes[i]]` is the text of cell i, without spaces around it."""
    meanings = [meaning(text, manner.marks, manner.decimal_mark, unit=manner.unit) for text in texts]
    numbers = np.array([each.number for each in meanings], dtype=np.float64)
    states = np.array([each.state for each in meanings], dtype=np.int8)
    if manner.shift:
        numbers = numbers + manner.shift
    return ValueCells(
        value=numbers[codes],
        state=states[codes],
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
