"""A run sheet as finished strings: what the template places."""

from dataclasses import dataclass

from reports.view.model import Note


@dataclass(frozen=True)
class Box:
    """A box for one reading: the channel, and its RF channel where it is known."""

    name: str
    signal: str


@dataclass(frozen=True)
class Run:
    """One strip."""

    number: str
    where: str
    name: str
    id: str
    boxes: tuple[Box, ...]


@dataclass(frozen=True)
class Round:
    """The strips of a round."""

    title: str
    runs: tuple[Run, ...]


@dataclass(frozen=True)
class Item:
    """An element with what it is in the trial."""

    name: str
    id: str
    role: str


@dataclass(frozen=True)
class Told:
    """What is told of a plan on a run sheet and on a page."""

    title: str
    statement: str
    filling: tuple[str, ...]
    telling: tuple[str, ...]
    shorter: tuple[str, ...]
    items: tuple[Item, ...]
    notes: tuple[Note, ...]
    safety: tuple[str, ...]


@dataclass(frozen=True)
class Sheet(Told):
    """A whole run sheet."""

    sheet_id: str
    seed: str
    site: str
    rounds: tuple[Round, ...]
    end: str

    @property
    def settling(self) -> tuple[tuple[Note, ...], ...]:
        """The notes in one group, in none where nothing is to be settled."""
        return (self.notes,) if self.notes else ()
