"""Which form a table has and by what its cells are separated: both are told by the heading alone."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass

LONG_REQUIRED = ("element", "channel", "value")
LONG_HEADINGS = ("element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting")
WIDE_HEADINGS = ("channel", "rf_channel")
SEPARATORS = (",", ";", "\t")
LONG, WIDE = "long", "wide"


@dataclass(frozen=True)
class Heading:
    """The heading of a table: its line in the file, the separator, the names without spaces around them."""

    row: int
    separator: str
    names: tuple[str, ...]

    @property
    def form(self) -> str:
        """ "wide" where there is a channel column and neither an element nor a value column, else "long"."""
        known = set(self.names)
        return WIDE if "channel" in known and not known & {"element", "value"} else LONG


def heading_of(line: str, row: int, *, separators: Sequence[str] = SEPARATORS) -> Heading:
    """The heading, split by the separator that yields the most headings understood here.

    A heading of two columns or more is understood under one separator only: the word `channel` stands alone
    between two separators, or between one and the line's end, in just one way of splitting. Where nothing is
    understood the separator that yields the most columns counts, for the fault to speak of.
    Raises csv.Error for quotation marks out of place.
    """
    readings = [Heading(row, separator, _split(line, separator)) for separator in separators]
    return max(readings, key=lambda heading: (_understood(heading.names), len(heading.names)))


def _split(line: str, separator: str) -> tuple[str, ...]:
    (cells,) = csv.reader([line], delimiter=separator, strict=True)
    return tuple(cell.strip() for cell in cells)


def _understood(names: Sequence[str]) -> int:
    return len(set(names) & set(LONG_HEADINGS))
