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
class Intervals:
    """Rows with their intervals over a band, None where there is none."""

    bars: tuple[Bar, ...]
    band: tuple[float, float] | None
    band_says: str
    axis: str


@dataclass(frozen=True)
class Ranking(Intervals):
    """The elements, best first; the band is the margin around the leader."""


@dataclass(frozen=True)
class Pairs(Intervals):
    """Every pair as a difference; the band is the margin on both sides of zero."""


@dataclass(frozen=True)
class Meeting:
    """One element against another: `mark` is "better", "worse", "as good", "open" or "none".

    `word` says the same, `printed` is the difference, "" where there is none.
    """

    mark: str
    word: str
    printed: str


@dataclass(frozen=True)
class Grid:
    """Every pair as a tile: each row's element against each column's, both in the order of `names`."""

    names: tuple[str, ...]
    rows: tuple[tuple[Meeting, ...], ...]
    says: tuple[str, ...]


@dataclass(frozen=True)
class Narrowing(Intervals):
    """The leader against the nearest rival, look by look; the band is the margin on both sides of zero."""


@dataclass(frozen=True)
class Line:
    """The scores of one element, one per round; None where there was no run.

    `struck` and `odd` are the rounds whose run was taken out, or is out of line.
    """

    name: str
    scores: tuple[float | None, ...]
    struck: tuple[int, ...] = ()
    odd: tuple[int, ...] = ()


@dataclass(frozen=True)
class Rounds:
    """Scores round by round; the two words stand in the legend, where there are such runs."""

    rounds: tuple[int, ...]
    lines: tuple[Line, ...]
    axis: str
    struck_says: str = ""
    odd_says: str = ""


@dataclass(frozen=True)
class GainRow:
    """One element: by round how many signals it gained and lost, None where there was nothing to compare."""

    name: str
    counts: tuple[tuple[int, int] | None, ...]


@dataclass(frozen=True)
class Gains:
    """Signals gained and lost by round, against one element."""

    rounds: tuple[int, ...]
    rows: tuple[GainRow, ...]
    gained_says: str
    lost_says: str


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


@dataclass(frozen=True)
class History:
    """One difference over dates, x in days since the first.

    points, line: (x, value, low, high), ends None where there are none; the line ends where the last point
    lies. band: the margin around the beginning of the line. ticks: x and its label. ends: of the axis.
    """

    points: tuple[tuple[float, float, float | None, float | None], ...]
    line: tuple[tuple[float, float, float | None, float | None], ...]
    band: tuple[float, float]
    ticks: tuple[tuple[float, str], ...]
    ends: tuple[float, float]
    points_say: str
    line_says: str
    ends_say: str
    band_says: str
    axis: str
    along: str


@dataclass(frozen=True)
class Card:
    """A verdict to show: the outcome, the sentence, the intervals of the first few, and the trial in words.

    `shape` is "wide" or "square"; `bars` are marked "lead" only for a clear winner; `left_out` counts those
    not drawn ("" where all are); `no_bars` is said where there is nothing to draw. `widest` is the outcome
    that takes most room, whichever came out: the size of all follows from it.
    """

    shape: str
    title: str
    outcome: str
    statement: str
    bars: tuple[Bar, ...]
    band: tuple[float, float] | None
    band_says: str
    axis: str
    left_out: str
    no_bars: str
    facts: tuple[str, ...]
    foot: str
    widest: str = ""


Picture = Card | Ranking | Pairs | Grid | Narrowing | Rounds | Gains | Tiles | Rates | Metals | History
