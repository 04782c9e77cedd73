"""A column of text as its different texts and a code for each row, so that each text is looked at once."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Codes = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Column:
    """`texts[codes[i]]` is the text of row i; a code of -1 means that the row has no text."""

    codes: Codes
    texts: Sequence[str]

    def map(self, change: Callable[[str], str | None]) -> "Column":
        """The column with every text changed; texts that become equal are one, None is no text."""
        changed = [change(text) for text in self.texts]
        if changed == list(self.texts):
            return self
        place = {text: code for code, text in enumerate(dict.fromkeys(t for t in changed if t is not None))}
        table = np.array([-1 if text is None else place[text] for text in changed] + [-1], dtype=np.int64)
        return Column(table[self.codes], list(place))

    def flags(self, texts: Callable[[str], bool]) -> NDArray[np.bool_]:
        """For each row whether its text has a property; False without text."""
        table = np.array([texts(text) for text in self.texts] + [False], dtype=bool)
        return np.asarray(table[self.codes])

    def take(self, rows: NDArray[np.bool_]) -> "Column":
        """The column of some rows."""
        return Column(self.codes[rows], self.texts)

    def text(self, row: int) -> str | None:
        """The text of one row."""
        code = int(self.codes[row])
        return None if code < 0 else self.texts[code]

    def count(self) -> int:
        """How many different texts occur."""
        return len(self._occurring())

    def _occurring(self) -> Codes:
        return np.flatnonzero(np.bincount(self.codes + 1, minlength=1)[1:])

    def categories(self) -> pd.Categorical:
        """The column for the readings table: categories by code point, those that occur."""
        names = sorted(self.texts[code] for code in self._occurring())
        place = {name: index for index, name in enumerate(names)}
        table = np.array([place.get(text, -1) for text in self.texts] + [-1], dtype=np.int64)
        return pd.Categorical.from_codes(table[self.codes], categories=pd.Index(names, dtype=object))


class Numbering:
    """Numbers texts in the order in which they are met; None, for a row without text, is -1."""

    def __init__(self) -> None:
        self._codes: defaultdict[str | None, int] = defaultdict()
        self._codes.default_factory = lambda: len(self._codes) - 1
        self._codes[None] = -1

    def codes(self, texts: Sequence[str | None]) -> Codes:
        """The code of each text."""
        return np.fromiter(map(self._codes.__getitem__, texts), dtype=np.int64, count=len(texts))

    def texts(self) -> list[str]:
        """The texts met so far, in the order of their codes."""
        return [text for text in self._codes if text is not None]


def column_of(texts: Sequence[str | None]) -> Column:
    """The column of a sequence of texts, None for rows without."""
    numbering = Numbering()
    return Column(numbering.codes(texts), numbering.texts())


def empty_column(rows: int) -> Column:
    """A column without any text."""
    return Column(np.full(rows, -1, dtype=np.int64), [])
