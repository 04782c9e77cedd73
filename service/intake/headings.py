"""The heading of a table: its columns as they are understood, and the form that they make."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from service.errors import Fault
from service.intake.spaces import one_line
from service.intake.special_cells import shown
from service.intake.spellings import understood

LONG_REQUIRED = ("element", "channel", "value")
LONG_HEADINGS = ("element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting")
WIDE_HEADINGS = ("channel", "rf_channel")
LONG, WIDE = "long", "wide"


@dataclass(frozen=True)
class Heading:
    """The heading of a table.

    It stands in the lines `row` to `end`, its cells parted by `separator` (None: cells of a workbook).
    `given` are its cells without spaces around them, `names` the columns that they name (the cell itself
    where it is none of the long form), `units` the units in them.
    """

    row: int
    end: int
    separator: str | None
    given: tuple[str, ...]
    names: tuple[str, ...]
    units: tuple[str | None, ...]

    @property
    def form(self) -> str:
        """ "wide" where there is a channel column and neither an element nor a value column, else "long"."""
        known = set(self.names)
        return WIDE if "channel" in known and not known & {"element", "value"} else LONG

    @property
    def sign(self) -> str:
        """The separator of a table of text."""
        return self.separator or ","

    @property
    def known(self) -> int:
        """How many columns of the long form are named."""
        return len(set(self.names) & set(LONG_HEADINGS))

    @property
    def is_whole(self) -> bool:
        """Whether a table can stand below: the long form has what it requires, the wide form has runs."""
        if self.form == LONG:
            return set(LONG_REQUIRED) <= set(self.names)
        return any(name and name not in LONG_HEADINGS for name in self.names)

    def labels(self) -> dict[str, str]:
        """For each column of the long form that is spelt in another way, how it is spelt here."""
        pairs = zip(self.names, self.given, strict=True)
        return {name: given for name, given in pairs if name in LONG_HEADINGS and name != given}

    def columns(self, places: Sequence[int]) -> "Heading":
        """The heading of some of its columns."""
        return replace(
            self,
            given=tuple(self.given[place] for place in places),
            names=tuple(self.names[place] for place in places),
            units=tuple(self.units[place] for place in places),
        )

    def widened(self, width: int) -> "Heading":
        """The heading with cells without text up to a width."""
        more = max(0, width - len(self.given))
        blank, none = ("",) * more, (None,) * more
        return replace(self, given=self.given + blank, names=self.names + blank, units=self.units + none)


def heading_of(
    cells: Sequence[str], row: int, *, separator: str | None = None, end: int | None = None
) -> Heading:
    """The heading that the cells of a line make."""
    given = tuple(one_line(shown(cell)) for cell in cells)
    read = [understood(cell) for cell in given]
    names, units = tuple(name for name, _ in read), tuple(unit for _, unit in read)
    return Heading(row, row if end is None else end, separator, given, names, units)


def heading_fault(heading: Heading, place: int, detail: str) -> Fault:
    """A fault of the heading of one column."""
    given = heading.given[place][:80]
    return Fault(detail, row=heading.row, column=given, given=given)


def repeated_headings(heading: Heading) -> list[Fault]:
    """A fault for each column whose heading stands above already."""
    twice = {name for name, count in Counter(heading.names).items() if count > 1}
    return [
        heading_fault(heading, place, _repeated(heading, name))
        for place, name in enumerate(heading.names)
        if name in twice and name in heading.names[:place]
    ]


def _repeated(heading: Heading, name: str) -> str:
    spelt = [given for given, own in zip(heading.given, heading.names, strict=True) if own == name]
    if len(set(spelt)) == 1:
        return "This heading stands twice. Give every column a heading of its own."
    return f"{' and '.join(dict.fromkeys(spelt))} all stand for {name}. Keep one of these columns."
