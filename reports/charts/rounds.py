"""Scores round by round: one line an element, told apart by mark and dash, named at its end."""

from typing import TYPE_CHECKING, Final

from reports.charts import palette
from reports.charts.canvas import SIZE, SMALL, Canvas, fitted, width_of
from reports.charts.pictures import Line, Rounds

if TYPE_CHECKING:
    from matplotlib.axes import Axes

HEIGHT: Final = 66.0
STEP: Final = 3.5
_MARKS: Final = ("D", "o", "s", "^", "v", "P", "X", "h")
_DASHES: Final = ("-", (0, (5, 1.5)), (0, (1, 1)), (0, (6, 1.5, 1, 1.5)))


def draw(picture: Rounds, width: float) -> Canvas:
    """The picture at a width in millimetres."""
    canvas = Canvas(width, max(HEIGHT, STEP * len(picture.lines) + 16))
    room = min(max(width_of(line.name, SMALL) for line in picture.lines) + 8, width * 0.36)
    left, right, top, bottom = 9.0, width - room, 6.0, canvas.height - 11.0
    area = canvas.axes(left, top, right=right, bottom=bottom)
    _axis(area, picture)
    for index, line in enumerate(picture.lines):
        _line(area, picture, index, line)
    area.margins(x=0.04, y=0.08)
    _names(canvas, area, picture, edges=(right, top, bottom))
    canvas.write(0.3, 2.4, fitted(picture.axis, width - 1, SIZE), ha="left", size=SIZE)
    canvas.write((left + right) / 2, canvas.height - 2.6, "round", ha="center", size=SIZE)
    return canvas


def _axis(area: "Axes", picture: Rounds) -> None:
    from matplotlib.ticker import MaxNLocator

    area.grid(visible=True, axis="y", color=palette.RULE, linewidth=0.4)
    area.set_axisbelow(True)
    if len(picture.rounds) <= 14:
        area.set_xticks(picture.rounds)
    else:
        area.xaxis.set_major_locator(MaxNLocator(nbins=10, integer=True))


def _line(area: "Axes", picture: Rounds, index: int, line: Line) -> None:
    scores = [float("nan") if score is None else score for score in line.scores]
    area.plot(
        picture.rounds,
        scores,
        color=_colour(index),
        linewidth=1.1,
        linestyle=_DASHES[index % len(_DASHES)],
        marker=_MARKS[index % len(_MARKS)],
        markersize=3.6,
    )


def _names(canvas: Canvas, area: "Axes", picture: Rounds, *, edges: tuple[float, float, float]) -> None:
    right, top, bottom = edges
    low, high = area.get_ylim()
    wanted = []
    for index, line in enumerate(picture.lines):
        last = next((score for score in reversed(line.scores) if score is not None), None)
        if last is not None:
            wanted.append((top + (high - last) / ((high - low) or 1.0) * (bottom - top), index, line.name))
    keys = canvas.axes(right, 0, right=canvas.width, bottom=canvas.height)
    keys.set_axis_off()
    keys.set_xlim(0, canvas.width - right)
    keys.set_ylim(canvas.height, 0)
    for y, index, name in _apart(sorted(wanted), top, bottom):
        keys.plot([2.5], [y], color=_colour(index), marker=_MARKS[index % len(_MARKS)], markersize=3.6)
        canvas.write(right + 5.5, y, fitted(name, canvas.width - right - 6, SMALL), ha="left", size=SMALL)


def _colour(index: int) -> str:
    return palette.LINES[index % len(palette.LINES)]


def _apart(wanted: list[tuple[float, int, str]], top: float, bottom: float) -> list[tuple[float, int, str]]:
    placed: list[tuple[float, int, str]] = []
    for y, index, name in wanted:
        lowest = placed[-1][0] + STEP if placed else top
        placed.append((max(y, lowest), index, name))
    over = placed[-1][0] - bottom if placed else 0.0
    if over <= 0:
        return placed
    raised: list[tuple[float, int, str]] = []
    highest = bottom
    for y, index, name in reversed(placed):
        raised.append((min(y, highest), index, name))
        highest = min(y, highest) - STEP
    return raised[::-1]
