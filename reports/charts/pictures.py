"""What a picture shows, in finished strings and plain numbers; the other files draw it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Bar:
    """One row of an interval picture: a name, a value with its interval, and what is said of it in words.

    `minus` is the name of what was subtracted, "" where nothing was. `value`, `low` and `high` are None where
    there is none; `mark` is "lead", "plain" or "control".
    """

    name: str
    minus: str
    value: float | None
    low: float | None
    high: float | None
    says: str
    mark: str


@dataclass(frozen=True)
class Ranking:
    """The elements, best first, with their intervals; the band is the margin around the leader."""

    bars: tuple[Bar, ...]
    band: tuple[float, float] | None
    band_says: str
    axis: str


@dataclass(frozen=True)
class Pairs:
    """Every pair as a difference with its interval; the band is the margin on both sides of zero."""

    bars: tuple[Bar, ...]
    band: tuple[float, float]
    band_says: str
    axis: str


@dataclass(frozen=True)
class Line:
    """The scores of one element, one per round; None where there was no run."""

    name: str
    scores: tuple[float | None, ...]


@dataclass(frozen=True)
class Rounds:
    """Scores round by round."""

    rounds: tuple[int, ...]
    lines: tuple[Line, ...]
    axis: str


@dataclass(frozen=True)
class TileRow:
    """One channel: its name, its signal, and of each element the mean (None: nothing) and its print."""

    channel: str
    signal: str
    means: tuple[float | None, ...]
    printed: tuple[str, ...]


@dataclass(frozen=True)
class Tiles:
    """Mean reading by channel and element; `ends` are the means that get the lightest and darkest shade."""

    elements: tuple[str, ...]
    rows: tuple[TileRow, ...]
    ends: tuple[float, float]
    scale: str


@dataclass(frozen=True)
class Rate:
    """One kind of noise: of a thousand trials, the fewest and the most that went wrong, in both ways."""

    name: str
    called: tuple[float, float]
    named: tuple[float, float]


@dataclass(frozen=True)
class Rates:
    """Measured error rates by kind of noise; `promise` is the most that is promised, of a thousand."""

    rates: tuple[Rate, ...]
    promise: float
    promise_says: str
    called_says: str
    named_says: str
    axis: str


@dataclass(frozen=True)
class Metal:
    """One element: the most the metals can make, and the difference shown with its interval (None: none)."""

    name: str
    most: float
    value: float | None
    low: float | None
    high: float | None
    says: str


@dataclass(frozen=True)
class Metals:
    """What metals can make, beside what the readings show."""

    metals: tuple[Metal, ...]
    legend: str
    axis: str


Picture = Ranking | Pairs | Rounds | Tiles | Rates | Metals
