"""Rows of points with intervals over a shaded band: the form that ranking, pairs and looks share."""

from typing import TYPE_CHECKING, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import Bar, Intervals, Pairs

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW: Final = 5.2
HEAD: Final = 6.4
FOOT: Final = 9.6
GAP: Final = 3.0
NARROW: Final = 120.0
_MARKERS: Final = {
    "lead": ("D", palette.COPPER, palette.COPPER),
    "plain": ("o", palette.INK, palette.INK),
    "control": ("s", palette.INK, palette.PAPER),
}


def draw(picture: Intervals, width: float) -> Canvas:
    """The picture at a width in millimetres; its height follows the number of rows.

    On a narrow sheet name and words stand above each interval instead of beside it.
    """
    narrow = width < NARROW
    row = ROW * 1.75 if narrow else ROW
    canvas = Canvas(width, HEAD + row * len(picture.bars) + FOOT)
    left, right = (1.5, width - 1.5) if narrow else _columns(picture, width)
    area = canvas.axes(left, HEAD, right=right, bottom=canvas.height - FOOT)
    _axis(area, picture)
    _intervals(area, picture.bars, sunk=0.3 if narrow else 0.0)
    for place, bar in enumerate(picture.bars):
        middle = HEAD + row * (place + 0.5)
        _words(canvas, bar, y=middle - 0.24 * row if narrow else middle, edges=(left, right))
    _legend(canvas, picture, left)
    canvas.write(
        (left + right) / 2, canvas.height - 2.6, fitted(picture.axis, width - 3), ha="center", size=SIZE
    )
    return canvas


def _columns(picture: Intervals, width: float) -> tuple[float, float]:
    names = max((width_of(_full(bar)) for bar in picture.bars), default=0.0)
    says = max((width_of(bar.says, SMALL) for bar in picture.bars), default=0.0)
    return min(names, width * (0.44 if isinstance(picture, Pairs) else 0.34)) + GAP, width - min(
        says, width * 0.28
    ) - GAP


def _axis(area: "Axes", picture: Intervals) -> None:
    low, high = _ends(picture)
    space = 0.06 * (high - low) or 0.5
    area.set_xlim(low - space, high + space)
    area.set_ylim(len(picture.bars) - 0.5, -0.5)
    area.set_yticks([])
    area.grid(visible=True, axis="x", color=palette.RULE, linewidth=0.4)
    area.set_axisbelow(True)
    if picture.band:
        low, high = picture.band
        area.axvspan(low, high, color=palette.BAND, linewidth=0, zorder=0.6)
        hatch(area, [(low, len(picture.bars) - 0.5, high, -0.5)])
        area.axvline(sum(picture.band) / 2, color=palette.INK, linewidth=0.8, zorder=1)


def _ends(picture: Intervals) -> tuple[float, float]:
    values = [end for bar in picture.bars for end in (bar.value, bar.low, bar.high) if end is not None]
    values += list(picture.band or ())
    return (min(values), max(values)) if values else (0.0, 1.0)


def _intervals(area: "Axes", bars: tuple[Bar, ...], *, sunk: float) -> None:
    """All intervals of one look as one artist each: drawing them row by row takes six times as long."""
    ends = [(place + sunk, bar.low, bar.high) for place, bar in enumerate(bars) if bar.low is not None]
    places, lows, highs = zip(*ends, strict=True) if ends else ((), (), ())
    area.hlines(places, lows, highs, color=palette.INK, linewidth=1.6)
    area.plot(
        [*lows, *highs], [*places, *places], color=palette.INK, linestyle="none", marker="|", markersize=6
    )
    for mark, (shape, edge, face) in _MARKERS.items():
        found = [(bar.value, place + sunk) for place, bar in enumerate(bars) if bar.mark == mark]
        at = [(value, place) for value, place in found if value is not None]
        area.plot(
            [value for value, _ in at],
            [place for _, place in at],
            linestyle="none",
            marker=shape,
            markersize=5,
            markerfacecolor=face,
            markeredgecolor=edge,
        )


def _words(canvas: Canvas, bar: Bar, *, y: float, edges: tuple[float, float]) -> None:
    """Name and words of a row: beside the drawing area, or over it where the sheet is narrow."""
    left, right = edges
    if right < canvas.width - GAP:
        canvas.write(0.3, y, _name(bar, left - GAP), ha="left", size=SIZE)
        canvas.write(
            right + 1.5, y, fitted(bar.says, canvas.width - right - 1.5, SMALL), ha="left", size=SMALL
        )
        return
    patch = {"facecolor": palette.PAPER, "edgecolor": "none", "pad": 0.5}
    says = fitted(bar.says, canvas.width * 0.42, SMALL)
    room = canvas.width - width_of(says, SMALL) - 2 * GAP
    canvas.write(left, y, _name(bar, room), ha="left", size=SIZE, bbox=patch)
    canvas.write(canvas.width - 0.3, y, says, ha="right", size=SMALL, bbox=patch)


def _full(bar: Bar) -> str:
    return f"{bar.name} \N{MINUS SIGN} {bar.minus}" if bar.minus else bar.name


def _name(bar: Bar, room: float) -> str:
    """The name in the room there is; of a difference both halves stay readable."""
    if not bar.minus or width_of(_full(bar)) <= room:
        return fitted(_full(bar), room)
    half = (room - width_of(" \N{MINUS SIGN} ")) / 2
    spare = max(0.0, half - min(width_of(bar.name), width_of(bar.minus)))
    return f"{fitted(bar.name, half + spare)} \N{MINUS SIGN} {fitted(bar.minus, half + spare)}"


def _legend(canvas: Canvas, picture: Intervals, left: float) -> None:
    if not picture.band:
        return
    key(canvas, (left, 0.8, left + 6.0, 4.0), facecolor=palette.BAND)
    canvas.write(
        left + 7.2, 2.4, fitted(picture.band_says, canvas.width - left - 8, SMALL), ha="left", size=SMALL
    )
