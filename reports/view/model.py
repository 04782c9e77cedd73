"""A report as finished strings: what the templates place, and nothing they would have to decide.

Parts that a report may lack are tuples that may be empty, so that templates need loops and names only.
"""

from collections.abc import Callable
from dataclasses import dataclass

from reports.charts.pictures import Picture


@dataclass(frozen=True)
class Image:
    """A drawn picture: its address (data: only), and those of the same drawn for a narrow screen."""

    src: str
    narrow: tuple[str, ...]


Draw = Callable[[Picture], Image]


@dataclass(frozen=True)
class Figure:
    """A picture with what it shows in words, for those who do not see it and for those who do."""

    image: Image
    alt: str
    caption: str
    kind: str


@dataclass(frozen=True)
class Column:
    """A heading; `kind` is "name" ("name wide" for long ones), "number" or "words".

    `more` goes on where `text` ends; between them a line may be broken.
    """

    text: str
    kind: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True)
class Cell:
    """A cell of the body; `heading` is repeated for narrow screens, where cells stand under one another.

    `more` goes on where `text` ends; between them a line may be broken.
    """

    text: str
    kind: str
    heading: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True)
class Row:
    """A row with its own heading; `kind` is "plain" or "marked"."""

    head: Cell
    cells: tuple[Cell, ...]
    kind: str


@dataclass(frozen=True)
class Table:
    """A table; `kind` is "stacked" (cells under one another on a narrow screen) or "scrolled".

    `size` is "small" where it is to stand on one page, else "large"; notes stand below.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    kind: str
    size: str
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Fact:
    """A term and what is to be said of it."""

    term: str
    text: str


@dataclass(frozen=True)
class Note:
    """A caution: severity in words, title, message."""

    severity: str
    title: str
    message: str


@dataclass(frozen=True)
class Listing:
    """A list of sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class FactList:
    """A list of facts."""

    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class Section:
    """One part behind the first page; its blocks are placed in the order of the fields."""

    anchor: str
    title: str
    paragraphs: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    figures: tuple[Figure, ...] = ()
    facts: tuple[FactList, ...] = ()
    tables: tuple[Table, ...] = ()
    lists: tuple[Listing, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class OneScan:
    """What one scan is worth."""

    title: str
    statement: str


@dataclass(frozen=True)
class Answer:
    """The first page: the answer in plain words."""

    outcome: str
    statement: str
    reasons: tuple[str, ...]
    rule: str
    findings: tuple[str, ...]
    one_scan: tuple[OneScan, ...]
    figures: tuple[Figure, ...]
    tables: tuple[Table, ...]
    limits: tuple[str, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True)
class Report:
    """A whole report."""

    title: str
    report_id: str
    scanned: str
    issued: str
    issued_at: str
    taken: str
    answer: Answer
    sections: tuple[Section, ...]
    end: str


@dataclass(frozen=True)
class Bounds:
    """How much of the largest tables and pictures a form prints; `channels` are those drawn in all."""

    rows: int
    columns: int
    picture_rows: int
    picture_columns: int
    channels: int
