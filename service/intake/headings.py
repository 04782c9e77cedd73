"""Which form a table has and by what its cells are separated: both are told by the heading alone."""

import csv
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from service.errors import Fault

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
    Raises csv.Error where quotation marks are out of place and no separator yields a heading understood here.
    """
    readings, errors = [], []
    for separator in separators:
        try:
            readings.append(Heading(row, separator, _split(line, separator)))
        except csv.Error as error:
            errors.append(error)
    best = max(readings, key=lambda heading: (_understood(heading.names), len(heading.names)), default=None)
    if best is None or (errors and not _understood(best.names)):
        raise errors[0]
    return best


def heading_fault(heading: Heading, name: str, detail: str) -> Fault:
    """A fault of one heading."""
    return Fault(detail, row=heading.row, column=name[:80], given=name[:80])


def repeated_headings(heading: Heading) -> list[Fault]:
    """A fault for each heading that stands twice."""
    twice = [name for name, count in Counter(heading.names).items() if count > 1]
    detail = "This heading stands twice. Give every column a heading of its own."
    return [heading_fault(heading, name, detail) for name in twice]


def _split(line: str, separator: str) -> tuple[str, ...]:
    """The cells of a line; one without quotation marks may be longer than the csv module allows a cell."""
    plain = '"' not in line
    cells = line.split(separator) if plain else next(csv.reader([line], delimiter=separator, strict=True))
    return tuple(cell.strip() for cell in cells)


def _understood(names: Sequence[str]) -> int:
    return len(set(names) & set(LONG_HEADINGS))
