"""Names as whole numbers, so that large tables are grouped and sorted by arithmetic."""

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Codes = NDArray[np.int64]


def codes_in(column: "pd.Series[str]", names: Sequence[str]) -> Codes:
    """The place of each entry of a text column in `names`, -1 where it is missing or not among them."""
    texts = column.astype("category").cat
    place = {name: index for index, name in enumerate(names)}
    table = np.array([place.get(name, -1) for name in texts.categories] + [-1], dtype=np.int64)
    return np.asarray(table[texts.codes.to_numpy()])


def names_of(column: "pd.Series[str]") -> list[str]:
    """The different texts of a column, by code point."""
    return sorted(column.dropna().unique())


def labels_in_order(column: "pd.Series[str]") -> list[str]:
    """The different labels of a column: whole numbers by size, then the others by code point."""
    return sorted(names_of(column), key=_label_key)


def combined(first: Codes, second: Codes) -> Codes:
    """One number for each different pair of codes (-1 and up), small and in no promised order."""
    width = int(second.max(initial=0)) + 2
    return np.asarray(pd.factorize((first + 1) * width + second + 1)[0], dtype=np.int64)


def _label_key(label: str) -> tuple[bool, int, str]:
    counts = label.isascii() and label.isdigit() and len(label) < 19
    return (not counts, int(label) if counts else 0, label)
