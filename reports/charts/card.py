"""A verdict to show around: outcome and sentence, the intervals, the trial in words; wide or square.

The outcome is set in one size, whichever it is: what is not settled stands as large as a winner.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import broken, fitted, width_of
from reports.charts.pictures import Bar, Card

if TYPE_CHECKING:
    from matplotlib.axes import Axes

OUTCOME: Final = 40.0  # points, as the four below; less where an outcome takes more room
BOLD: Final = 1.12  # how much wider bold letters are, at most
STATEMENT: Final = (19.0, 17.0, 15.0, 13.0)
NAME: Final = 13.0
FACT: Final = 11.2
FOOT: Final = 10.5
HEIGHT: Final = 180.0
EDGE: Final = 10.0
SAYS: Final = 0.6  # of the width of the intervals, at most
RULE: Final = 14.0  # from the lower edge
HATCHED: Final = 2.6  # millimetres between two lines of the band
LEADING: Final = 0.47  # millimetres from line to line, for each point of size
_MARKERS: Final = {"lead": ("D", palette.COPPER), "plain": ("o", palette.INK)}


@dataclass(frozen=True)
class _Frame:
    """Where things stand, in millimetres: text from `left` to `right`; intervals within four edges."""

    right: float
    statement_lines: int
    intervals: tuple[float, float, float, float]
    facts: float


_FRAMES: Final = {
    "wide": _Frame(156.0, 6, (170.0, 20.0, 310.0, 160.0), 105.0),
    "square": _Frame(170.0, 3, (10.0, 66.0, 170.0, 130.0), 133.0),
}


def draw(picture: Card, width: float) -> Canvas:
    """The picture at a width in millimetres: 320 for the wide shape, 180 for the square one."""
    frame, canvas = _FRAMES[picture.shape], Canvas(width, HEIGHT)
    _block(canvas)
    canvas.write(EDGE, 11.5, fitted(picture.title, width - 2 * EDGE, NAME), size=NAME, color=palette.QUIET)
    canvas.write(EDGE, 25.0, picture.outcome, size=_outcome_size(picture, frame.right - EDGE), weight="bold")
    _statement(canvas, picture, frame)
    _facts(canvas, picture, frame)
    _foot(canvas, picture)
    if picture.bars:
        _intervals(canvas, picture, frame.intervals)
    else:
        left, top, right, _ = frame.intervals
        _lines(canvas, broken(picture.no_bars, right - left, FACT), at=(left, top + 12.0), size=FACT)
    return canvas


def _outcome_size(picture: Card, room: float) -> float:
    """The size that leaves room for the longest of the outcomes in the spoken language."""
    longest = max(width_of(text, OUTCOME) for text in (picture.outcome, picture.widest))
    return OUTCOME * min(1.0, room / (BOLD * longest))


def _block(canvas: Canvas) -> None:
    """A strip of copper along the upper edge, a rule over the foot."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Rectangle

    canvas.place(Rectangle((0.0, 0.0), canvas.width, 4.0, color=palette.COPPER, linewidth=0))
    rule, ends = HEIGHT - RULE, [EDGE, canvas.width - EDGE]
    canvas.place(Line2D(ends, [rule, rule], color=palette.RULE, linewidth=1.0))


def _statement(canvas: Canvas, picture: Card, frame: _Frame) -> None:
    """The sentence, as large as the room allows; cut only where the smallest size is too large."""
    room, top = frame.right - EDGE, 38.5
    space = frame.statement_lines * LEADING * STATEMENT[0]
    for size in STATEMENT:
        lines = broken(picture.statement, room, size)
        if len(lines) * LEADING * size <= space:
            break
    most = int(space / (LEADING * size))
    shown = [*lines[: most - 1], " ".join(lines[most - 1 :])] if len(lines) > most else lines
    _lines(canvas, [fitted(line, room, size) for line in shown], at=(EDGE, top), size=size)


def _facts(canvas: Canvas, picture: Card, frame: _Frame) -> None:
    """What was done, in words, down to the rule over the foot; later facts give way."""
    room = frame.right - EDGE
    lines: list[str] = []
    most = int((HEIGHT - RULE - frame.facts) / (LEADING * FACT))
    for fact in picture.facts:
        more = broken(fact, room, FACT)
        if len(lines) + len(more) <= most:
            lines += [fitted(line, room, FACT) for line in more]
    _lines(canvas, lines, at=(EDGE, frame.facts + 2.5), size=FACT)


def _foot(canvas: Canvas, picture: Card) -> None:
    """Below the rule, on one line or two."""
    room = canvas.width - 2 * EDGE
    first, *more = broken(picture.foot, room, FOOT)
    lines = [first, fitted(" ".join(more), room, FOOT)] if more else [first]
    top = HEIGHT - 7.3 - (LEADING * FOOT / 2 if more else 0.0)
    _lines(canvas, lines, at=(EDGE, top), size=FOOT, color=palette.QUIET)


def _lines(canvas: Canvas, lines: list[str], *, at: tuple[float, float], **looks: Any) -> None:
    for place, line in enumerate(lines):
        canvas.write(at[0], at[1] + LEADING * looks["size"] * place, line, **looks)


def _intervals(canvas: Canvas, picture: Card, edges: tuple[float, float, float, float]) -> None:
    """Name and words over each interval, the margin as a hatched band behind them."""
    left, top, right, bottom = edges
    row = min(24.0, (bottom - top - 20.0) / len(picture.bars))
    start = top + 7.0
    area = canvas.axes(left, start, right=right, bottom=start + row * len(picture.bars))
    _axis(area, picture)
    _marks(area, picture.bars)
    patch = {"facecolor": palette.PAPER, "edgecolor": "none", "pad": 1.0}
    for place, bar in enumerate(picture.bars):
        y = start + row * place + 3.2
        says = fitted(bar.says, SAYS * (right - left), FOOT)
        room = right - left - width_of(says, FOOT) - 6.0
        canvas.write(left, y, fitted(bar.name, room, NAME), size=NAME, bbox=patch)
        canvas.write(right, y, says, ha="right", size=FOOT, bbox=patch)
    below = start + row * len(picture.bars)
    canvas.write(left, below + 10.5, picture.left_out, size=NAME)
    room = right - left - width_of(picture.left_out, NAME) - 6.0
    canvas.write(right, below + 10.5, fitted(picture.axis, room, FOOT), ha="right", size=FOOT)
    _legend(canvas, picture, left, top)


def _axis(area: "Axes", picture: Card) -> None:
    ends = [end for bar in picture.bars for end in (bar.value, bar.low, bar.high)] + [*(picture.band or ())]
    known = [end for end in ends if end is not None]
    space = 0.05 * (max(known) - min(known)) or 0.5
    area.set_xlim(min(known) - space, max(known) + space)
    area.set_ylim(len(picture.bars) - 0.5, -0.5)
    area.set_yticks([])
    area.tick_params(axis="x", labelsize=FOOT, length=4, width=1.0)
    area.locator_params(axis="x", nbins=6)
    area.grid(visible=True, axis="x", color=palette.RULE, linewidth=0.8)
    area.set_axisbelow(True)
    if picture.band:
        low, high = picture.band
        area.axvspan(low, high, color=palette.BAND, linewidth=0, zorder=0.6)
        hatch(area, [(low, len(picture.bars) - 0.5, high, -0.5)], apart=HATCHED, linewidth=0.8)
        area.axvline(sum(picture.band) / 2, color=palette.INK, linewidth=1.2, zorder=1)


def _marks(area: "Axes", bars: tuple[Bar, ...]) -> None:
    sunk = 0.2
    for place, bar in enumerate(bars):
        y = place + sunk
        if bar.low is not None and bar.high is not None:
            area.hlines(y, bar.low, bar.high, color=palette.INK, linewidth=3.0)
            area.plot(
                [bar.low, bar.high],
                [y, y],
                color=palette.INK,
                linestyle="none",
                marker="|",
                markersize=12,
                markeredgewidth=2.0,
            )
        shape, colour = _MARKERS[bar.mark]
        looks: dict[str, Any] = {"linestyle": "none", "markersize": 10, "color": colour, "clip_on": False}
        area.plot([math.nan if bar.value is None else bar.value], [y], marker=shape, **looks)


def _legend(canvas: Canvas, picture: Card, left: float, top: float) -> None:
    if not picture.band:
        return
    key(canvas, (left, top, left + 9.0, top + 4.0), facecolor=palette.BAND)
    room = canvas.width - left - 11.0 - EDGE
    canvas.write(left + 11.0, top + 2.0, fitted(picture.band_says, room, FOOT), size=FOOT)
