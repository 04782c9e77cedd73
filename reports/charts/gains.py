"""Signals gained and lost by round: bars up and down with their numbers, one row an element."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import GainRow, Gains
from reports.language import say

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW: Final = 11.5
HEAD: Final = 9.0
FOOT: Final = 8.0
NARROW: Final = 120.0
NAME: Final = 4.0  # over each row of a narrow sheet
REACH: Final = 0.27  # of a row, the longest bar
LINES: Final = 0.8  # millimetres between two lines of what was lost
THICK: Final = 0.34  # of the room of a round
_LOOKS: Final[Mapping[str, Mapping[str, Any]]] = {
    "gained": {"facecolor": palette.COPPER, "edgecolor": palette.COPPER},
    "lost": {"facecolor": palette.PAPER, "edgecolor": palette.INK},
}


def draw(picture: Gains, width: float) -> Canvas:
    """The picture at a width in millimetres; names stand left of the rows, on a narrow sheet over them."""
    narrow = width < NARROW
    row = ROW + NAME if narrow else ROW
    canvas = Canvas(width, HEAD + row * len(picture.rows) + FOOT)
    left = (
        1.0 if narrow else min(max(width_of(entry.name, SMALL) for entry in picture.rows), width * 0.32) + 3.0
    )
    area = canvas.axes(left, HEAD, right=width - 1.0, bottom=canvas.height - FOOT)
    _axis(area, picture)
    shift = NAME / row / 2 if narrow else 0.0
    most = max([1, *(max(counts) for entry in picture.rows for counts in entry.counts if counts)])
    _bars(area, picture, most=most, shift=shift, reach=REACH * ROW / row)
    for place, entry in enumerate(picture.rows):
        top = HEAD + row * place
        y = top + 2.0 if narrow else top + row / 2
        canvas.write(0.3, y, fitted(entry.name, width - 2 if narrow else left - 2, SMALL), size=SMALL)
        _numbers(canvas, entry, picture, edges=(left, width - 1.0), middle=top + row * (0.5 + shift))
    _legend(canvas, picture)
    canvas.write((left + width) / 2, canvas.height - 2.2, say("round"), ha="center", size=SIZE)
    return canvas


def _axis(area: "Axes", picture: Gains) -> None:
    area.set_xlim(-0.5, len(picture.rounds) - 0.5)
    area.set_ylim(len(picture.rows) - 0.5, -0.5)
    area.set_yticks([])
    area.set_xticks(range(len(picture.rounds)), [str(number) for number in picture.rounds])
    for place in range(len(picture.rows)):
        area.axhline(place + 0.5, color=palette.RULE, linewidth=0.5)


def _bars(area: "Axes", picture: Gains, *, most: int, shift: float, reach: float) -> None:
    """Bars up and down from the middle of each row, all to one scale."""
    places = [
        (x, y + shift, counts)
        for y, entry in enumerate(picture.rows)
        for x, counts in enumerate(entry.counts)
        if counts
    ]
    for x, y, _ in places:
        area.hlines(y, x - 0.4, x + 0.4, color=palette.QUIET, linewidth=0.6)
    for index, (name, sign) in enumerate((("gained", -1), ("lost", 1))):
        area.bar(
            [x for x, _, _ in places],
            [sign * reach * counts[index] / most for _, _, counts in places],
            width=THICK,
            bottom=[y for _, y, _ in places],
            linewidth=0.6,
            **_LOOKS[name],
        )
    boxes = [(x - THICK / 2, y, x + THICK / 2, y + reach * counts[1] / most) for x, y, counts in places]
    hatch(area, [box for box in boxes if box[3] > box[1]], apart=LINES, edgecolor=palette.INK, zorder=2.0)


def _numbers(
    canvas: Canvas, entry: GainRow, picture: Gains, *, edges: tuple[float, float], middle: float
) -> None:
    """How many, beside the bars; a round without a comparison says so."""
    step = (edges[1] - edges[0]) / len(picture.rounds)
    for place, counts in enumerate(entry.counts):
        x = edges[0] + step * (place + 0.5)
        if counts is None:
            canvas.write(x, middle, "\N{EN DASH}", ha="center", size=SMALL)
            continue
        gained, lost = counts
        beside = x + step * (THICK / 2) + 0.6
        if gained:
            canvas.write(beside, middle - 2.0, f"+{gained}", ha="left", size=SMALL)
        if lost:
            canvas.write(beside, middle + 2.0, f"\N{MINUS SIGN}{lost}", ha="left", size=SMALL)


def _legend(canvas: Canvas, picture: Gains) -> None:
    for index, (name, says) in enumerate((("gained", picture.gained_says), ("lost", picture.lost_says))):
        top = 0.6 + 4.0 * index
        lines = _LOOKS[name]["edgecolor"]
        key(canvas, (0.5, top, 5.5, top + 2.6), lines=lines, facecolor=_LOOKS[name]["facecolor"])
        canvas.write(7.0, top + 1.3, fitted(says, canvas.width - 8, SMALL), ha="left", size=SMALL)
