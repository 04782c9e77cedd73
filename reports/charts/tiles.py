"""Readings by channel and element: tiles with their number printed in them, readable without colour."""

import math
from typing import Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.letters import SMALL, broken, fitted, width_of
from reports.charts.pictures import TileRow, Tiles

ROW: Final = 3.7
NUMBER: Final = 6.2
LINE: Final = 2.9
MOST_LINES: Final = 3
WIDEST: Final = 24.0
LEVEL_FROM: Final = 13.0
ASLANT: Final = 26.0
TURN: Final = 55.0
SINE, COSINE = math.sin(math.radians(TURN)), math.cos(math.radians(TURN))


def draw(picture: Tiles, width: float) -> Canvas:
    """The picture at a width in millimetres; its height follows the number of channels.

    Names of elements stand level above wide tiles, on up to three lines, and aslant above narrow ones.
    """
    names = max(width_of(_label(row), SMALL) for row in picture.rows)
    left = min(names, width * 0.36) + 2.5
    cell = min(WIDEST, (width - left) / len(picture.elements))
    level = cell >= LEVEL_FROM
    if not level:
        cell = min(WIDEST, (width - left - ASLANT * COSINE) / len(picture.elements))
    head = (
        3.0 + LINE * max(len(_lines(name, cell)) for name in picture.elements)
        if level
        else ASLANT * SINE + 3.0
    )
    canvas = Canvas(width, head + ROW * len(picture.rows) + 5.5)
    (_level if level else _aslant)(canvas, picture, left=left, cell=cell, head=head)
    _tiles(canvas, picture, left=left, cell=cell, head=head)
    canvas.write(left, canvas.height - 2.4, fitted(picture.scale, width - left, SMALL), ha="left", size=SMALL)
    return canvas


def _label(row: TileRow) -> str:
    return row.channel if row.channel == row.signal else f"{row.channel} \N{MIDDLE DOT} {row.signal}"


def _lines(name: str, room: float) -> list[str]:
    """A name on as many lines as it takes in this room, three at most."""
    lines = broken(name, room - 1.0, SMALL)
    shown = (
        [*lines[: MOST_LINES - 1], " ".join(lines[MOST_LINES - 1 :])] if len(lines) > MOST_LINES else lines
    )
    return [fitted(line, room - 1.0, SMALL) for line in shown]


def _level(canvas: Canvas, picture: Tiles, *, left: float, cell: float, head: float) -> None:
    for column, name in enumerate(picture.elements):
        lines = _lines(name, cell)
        for place, line in enumerate(lines):
            y = head - 2.2 - LINE * (len(lines) - 1 - place)
            canvas.write(left + cell * (column + 0.5), y, line, ha="center", size=SMALL)


def _aslant(canvas: Canvas, picture: Tiles, *, left: float, cell: float, head: float) -> None:
    for column, name in enumerate(picture.elements):
        text, middle = fitted(name, ASLANT, SMALL), left + cell * (column + 0.5)
        canvas.write(middle, head - 1.5, text, ha="left", size=SMALL, rotation=TURN, rotation_mode="anchor")


def _tiles(canvas: Canvas, picture: Tiles, *, left: float, cell: float, head: float) -> None:
    _shades(canvas, picture, left=left, cell=cell, head=head)
    for index, row in enumerate(picture.rows):
        middle = head + ROW * (index + 0.5)
        canvas.write(0.3, middle, fitted(_label(row), left - 2, SMALL), ha="left", size=SMALL)
        for column, printed in enumerate(row.printed):
            canvas.write(left + cell * (column + 0.5), middle, printed, ha="center", size=NUMBER)


def _shades(canvas: Canvas, picture: Tiles, *, left: float, cell: float, head: float) -> None:
    """All tiles as one artist; a tile without a reading stays white."""
    from matplotlib.collections import PolyCollection
    from matplotlib.colors import LinearSegmentedColormap

    shades = LinearSegmentedColormap.from_list("copper", [palette.TILE_LOW, palette.TILE_HIGH])
    means = [mean for row in picture.rows for mean in row.means]
    low, high = picture.ends
    colours = [palette.PAPER if m is None else shades((m - low) / ((high - low) or 1.0)) for m in means]
    corners = [
        [(x, y), (x + cell, y), (x + cell, y + ROW), (x, y + ROW)]
        for y in (head + ROW * row for row in range(len(picture.rows)))
        for x in (left + cell * column for column in range(len(picture.elements)))
    ]
    canvas.place(PolyCollection(corners, facecolors=colours, edgecolors=palette.RULE, linewidths=0.4))
