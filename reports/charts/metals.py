"""What the metals can make at most, element by element, beside what the readings show."""

from typing import TYPE_CHECKING, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import Metal, Metals

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW: Final = 6.4
HEAD: Final = 6.4
FOOT: Final = 9.6
GAP: Final = 3.0
NARROW: Final = 120.0
THICK: Final = 0.32  # of a row


def draw(picture: Metals, width: float) -> Canvas:
    """The picture at a width in millimetres; its height follows the number of rows.

    Name and words stand beside each row, on a narrow sheet above it.
    """
    narrow = width < NARROW
    row = ROW * 1.6 if narrow else ROW
    canvas = Canvas(width, HEAD + row * len(picture.metals) + FOOT)
    left, right = (1.5, width - 2.0) if narrow else _columns(picture, width)
    area = canvas.axes(left, HEAD, right=right, bottom=canvas.height - FOOT)
    _axis(area, picture)
    sunk = 0.22 if narrow else 0.0
    for place, metal in enumerate(picture.metals):
        _row(area, metal, place + sunk)
        middle = HEAD + row * (place + (0.22 if narrow else 0.5))
        _words(canvas, metal, y=middle, edges=(left, right))
    _legend(canvas, picture, left)
    middle = (left + right) / 2
    canvas.write(middle, canvas.height - 2.6, fitted(picture.axis, width - 3), ha="center", size=SIZE)
    return canvas


def _columns(picture: Metals, width: float) -> tuple[float, float]:
    names = max(width_of(metal.name) for metal in picture.metals)
    says = max(width_of(metal.says, SMALL) for metal in picture.metals)
    return min(names, width * 0.34) + GAP, width - min(says, width * 0.28) - GAP


def _axis(area: "Axes", picture: Metals) -> None:
    ends = [end for metal in picture.metals for end in (metal.most, metal.low, metal.high, metal.value, 0.0)]
    known = [end for end in ends if end is not None]
    space = 0.06 * (max(known) - min(known)) or 0.5
    area.set_xlim(min(known) - space, max(known) + space)
    area.set_ylim(len(picture.metals) - 0.5, -0.5)
    area.set_yticks([])
    area.grid(visible=True, axis="x", color=palette.RULE, linewidth=0.4)
    area.set_axisbelow(True)
    area.axvline(0.0, color=palette.INK, linewidth=0.8, zorder=1)


def _row(area: "Axes", metal: Metal, at: float) -> None:
    """A hatched bar up to what the metals can make, and the difference with its interval over it."""
    area.barh(
        [at],
        [metal.most],
        height=THICK,
        facecolor=palette.BAND,
        edgecolor=palette.COPPER,
        linewidth=0.6,
        zorder=2,
    )
    box = (0.0, at - THICK / 2, metal.most, at + THICK / 2)
    hatch(area, [box], edgecolor=palette.COPPER, zorder=2.1)
    if metal.value is None:
        return
    if metal.low is not None and metal.high is not None:
        area.hlines([at], [metal.low], [metal.high], color=palette.INK, linewidth=1.6, zorder=3)
        ends = [metal.low, metal.high]
        area.plot(ends, [at, at], color=palette.INK, linestyle="none", marker="|", markersize=6, zorder=3)
    area.plot(
        [metal.value],
        [at],
        linestyle="none",
        marker="o",
        markersize=5,
        markerfacecolor=palette.INK,
        markeredgecolor=palette.INK,
        zorder=4,
    )


def _words(canvas: Canvas, metal: Metal, *, y: float, edges: tuple[float, float]) -> None:
    left, right = edges
    if right < canvas.width - GAP:
        canvas.write(0.3, y, fitted(metal.name, left - GAP), ha="left", size=SIZE)
        room = canvas.width - right - 1.5
        canvas.write(right + 1.5, y, fitted(metal.says, room, SMALL), ha="left", size=SMALL)
        return
    patch = {"facecolor": palette.PAPER, "edgecolor": "none", "pad": 0.5}
    says = fitted(metal.says, canvas.width * 0.5, SMALL)
    room = canvas.width - width_of(says, SMALL) - 2 * GAP
    canvas.write(left, y, fitted(metal.name, room), ha="left", size=SIZE, bbox=patch)
    canvas.write(canvas.width - 0.3, y, says, ha="right", size=SMALL, bbox=patch)


def _legend(canvas: Canvas, picture: Metals, left: float) -> None:
    key(canvas, (left, 0.8, left + 6.0, 4.0), lines=palette.COPPER, facecolor=palette.BAND)
    room = canvas.width - left - 8
    canvas.write(left + 7.2, 2.4, fitted(picture.legend, room, SMALL), ha="left", size=SMALL)
