"""Boxes told apart by lines across them, slanted or level, so that they can be read without colour.

The lines are one path, drawn by ourselves: patterns of an SVG make a PDF take twice as long.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.letters import MM_PER_INCH

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.patches import PathPatch

Box = tuple[float, float, float, float]
Segment = tuple[tuple[float, float], tuple[float, float]]
APART: Final = 1.6  # millimetres between two lines


def hatch(
    area: "Axes", boxes: Iterable[Box], *, level: bool = False, apart: float = APART, **looks: Any
) -> None:
    """Lines across boxes (left, lower, right, upper in the area's data, whose limits must stand already)."""
    area.add_artist(_lines(boxes, _millimetres(area), level=level, apart=apart, looks=looks))


def hatch_sheet(canvas: Canvas, boxes: Iterable[Box], *, level: bool = False, **looks: Any) -> None:
    """The same across boxes in millimetres of the sheet: left, top, right, bottom."""
    canvas.place(_lines(boxes, (1.0, 1.0), level=level, apart=APART, looks=looks))


def key(canvas: Canvas, edges: Box, *, lines: str = palette.HATCH, **looks: Any) -> None:
    """A hatched sample for a legend; edges in millimetres: left, top, right, bottom."""
    from matplotlib.patches import Rectangle

    left, top, right, bottom = edges
    about = {"edgecolor": lines, "linewidth": 0.5, **looks}
    canvas.place(Rectangle((left, top), right - left, bottom - top, **about))
    hatch_sheet(canvas, [edges], edgecolor=lines, zorder=2.0)


def _lines(
    boxes: Iterable[Box], scale: tuple[float, float], *, level: bool, apart: float, looks: dict[str, Any]
) -> "PathPatch":
    """All lines as one path; scale: millimetres for one unit along and up."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    (across, up), points = scale, []
    for left, lower, right, upper in boxes:
        wide, high = (right - left) * across, (upper - lower) * up
        for ends in (_level if level else _slanted)(abs(wide), abs(high), apart):
            points += [(left + x / across, lower + y / up) for x, y in _turned(ends, wide, high)]
    codes = [Path.MOVETO, Path.LINETO] * (len(points) // 2)
    drawn = {"edgecolor": palette.HATCH, "linewidth": 0.5, "facecolor": "none", "zorder": 0.7, **looks}
    return PathPatch(Path(points or [(0.0, 0.0)] * 2, codes or [Path.MOVETO, Path.LINETO]), **drawn)


def _millimetres(area: "Axes") -> tuple[float, float]:
    """Millimetres for one unit of the area's data, along and up; below zero where an axis runs backwards."""
    figure, place = area.get_figure(), area.get_position()
    width, height = figure.get_size_inches() * MM_PER_INCH  # type: ignore[union-attr] # areas have a figure
    (left, right), (lower, upper) = area.get_xlim(), area.get_ylim()
    return place.width * width / (right - left), place.height * height / (upper - lower)


def _slanted(wide: float, high: float, apart: float) -> Iterator[Segment]:
    """Lines of 45 degrees within a box of this size."""
    step, at = apart * 2**0.5, apart - high
    while at < wide:
        start, end = max(0.0, at), min(wide, high + at)
        yield (start, start - at), (end, end - at)
        at += step


def _level(wide: float, high: float, apart: float) -> Iterator[Segment]:
    at = apart / 2
    while at < high:
        yield (0.0, at), (wide, at)
        at += apart


def _turned(ends: Segment, wide: float, high: float) -> list[tuple[float, float]]:
    """The points in the directions in which the box runs."""
    return [(x if wide > 0 else -x, y if high > 0 else -y) for x, y in ends]
