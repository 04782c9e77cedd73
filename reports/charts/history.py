"""Differences over dates: points with intervals, the line through them with its own, and the margin."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import History

if TYPE_CHECKING:
    from matplotlib.axes import Axes

HEIGHT: Final = 74.0
KEY: Final = 4.4
LEFT: Final = 11.0
RIGHT: Final = 3.0
FOOT: Final = 11.5
SAMPLE: Final = 6.0
GAP: Final = 4.0
EDGE: Final = 0.03  # beyond the dates, in their own length
DASHED: Final = (0, (4, 2))


def draw(picture: History, width: float) -> Canvas:
    """The picture at a width in millimetres; what its lines mean stands above it."""
    rows = list(_key_rows(picture, width - LEFT - RIGHT))
    top = 4.6 + KEY * len(rows) + 1.6
    canvas = Canvas(width, HEIGHT + KEY * len(rows))
    right, bottom = width - RIGHT, canvas.height - FOOT
    area = canvas.axes(LEFT, top, right=right, bottom=bottom)
    _axis(area, picture, room=right - LEFT)
    _margin(area, picture)
    _line(area, picture)
    _points(area, picture)
    canvas.write(0.3, 2.4, fitted(picture.axis, width - 1, SIZE), ha="left", size=SIZE)
    for place, row in enumerate(rows):
        _keys(canvas, row, y=4.6 + KEY * (place + 0.5))
    canvas.write((LEFT + right) / 2, canvas.height - 2.6, picture.along, ha="center", size=SIZE)
    return canvas


def _axis(area: "Axes", picture: History, *, room: float) -> None:
    last = picture.line[-1][0]
    area.set_xlim(-EDGE * last, (1 + EDGE) * last)
    area.set_ylim(*picture.ends)
    area.grid(visible=True, axis="y", color=palette.RULE, linewidth=0.4)
    area.set_axisbelow(True)
    widest = max((width_of(label, SMALL) for _, label in picture.ticks), default=0.0)
    every = max(1, math.ceil(len(picture.ticks) * (widest + GAP) / room))
    shown = picture.ticks[::every]
    area.set_xticks([at for at, _ in shown], [label for _, label in shown])


def _margin(area: "Axes", picture: History) -> None:
    low, high = picture.band
    left, right = area.get_xlim()
    area.axhspan(low, high, color=palette.BAND, linewidth=0, zorder=0.6)
    hatch(area, [(left, high, right, low)])  # from above, so that it slants as its key does


def _line(area: "Axes", picture: History) -> None:
    days = [at[0] for at in picture.line]
    area.plot(days, [at[1] for at in picture.line], color=palette.COPPER, linewidth=1.4, zorder=3)
    for end in (2, 3):
        given = [at[end] for at in picture.line]
        values = [float("nan") if value is None else value for value in given]
        area.plot(days, values, color=palette.COPPER, linewidth=0.9, linestyle=DASHED, zorder=2)


def _points(area: "Axes", picture: History) -> None:
    ends = [(at, low, high) for at, _, low, high in picture.points if low is not None]
    days, lows, highs = zip(*ends, strict=True) if ends else ((), (), ())
    area.vlines(days, lows, highs, color=palette.INK, linewidth=1.3, zorder=4)
    area.plot(
        [*days, *days],
        [*lows, *highs],
        color=palette.INK,
        linestyle="none",
        marker="_",
        markersize=5,
        zorder=4,
    )
    area.plot(
        [point[0] for point in picture.points],
        [point[1] for point in picture.points],
        color=palette.INK,
        linestyle="none",
        marker="o",
        markersize=4.4,
        zorder=5,
    )


def _key_rows(picture: History, room: float) -> Iterator[list[tuple[str, str]]]:
    """The keys (what is drawn, what is said of it), as many in a row as there is room for."""
    row: list[tuple[str, str]] = []
    left = room
    for kind, says in (
        ("point", picture.points_say),
        ("line", picture.line_says),
        ("dashes", picture.ends_say),
        ("band", picture.band_says),
    ):
        wide = SAMPLE + 1.5 + width_of(says, SMALL) + GAP
        if row and wide > left:
            yield row
            row, left = [], room
        row.append((kind, says))
        left -= wide
    yield row


def _keys(canvas: Canvas, row: list[tuple[str, str]], *, y: float) -> None:
    x = LEFT
    for kind, says in row:
        if kind == "band":
            key(canvas, (x, y - 1.5, x + SAMPLE, y + 1.5), facecolor=palette.BAND)
        else:
            _sample(canvas.axes(x, y - 1.5, right=x + SAMPLE, bottom=y + 1.5), kind)
        text = fitted(says, canvas.width - x - SAMPLE - 1.5, SMALL)
        canvas.write(x + SAMPLE + 1.5, y, text, ha="left", size=SMALL)
        x += SAMPLE + 1.5 + width_of(text, SMALL) + GAP


def _sample(area: "Axes", kind: str) -> None:
    area.set_axis_off()
    area.set_xlim(0, 1)
    area.set_ylim(0, 1)
    if kind == "point":
        area.plot([0.5, 0.5], [0.0, 1.0], color=palette.INK, linewidth=1.3)
        area.plot([0.5], [0.5], color=palette.INK, marker="o", markersize=4.4)
    else:
        style = DASHED if kind == "dashes" else "-"
        area.plot([0, 1], [0.5, 0.5], color=palette.COPPER, linewidth=1.2, linestyle=style)
