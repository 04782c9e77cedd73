"""Scores round by round: one line an element, told apart by mark and dash, named at its end."""

from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import Line, Rounds
from reports.language import say

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D

HEIGHT: Final = 66.0
STEP: Final = 3.5
LEGEND: Final = 4.2  # the height of a line of it
RING: Final = 8.5
CROSS: Final = 5.5
_MARKS: Final = ("D", "o", "s", "^", "v", "P", "X", "h")
_DASHES: Final = ("-", (0, (5, 1.5)), (0, (1, 1)), (0, (6, 1.5, 1, 1.5)))


def draw(picture: Rounds, width: float) -> Canvas:
    """The picture at a width in millimetres."""
    legend = [(mark, says) for mark, says in (("x", picture.struck_says), ("o", picture.odd_says)) if says]
    canvas = Canvas(width, max(HEIGHT, STEP * len(picture.lines) + 16) + LEGEND * len(legend))
    room = min(max(width_of(line.name, SMALL) for line in picture.lines) + 8, width * 0.36)
    left, right, top, bottom = 9.0, width - room, 6.0, canvas.height - 11.0 - LEGEND * len(legend)
    area = canvas.axes(left, top, right=right, bottom=bottom)
    _axis(area, picture)
    for index, line in enumerate(picture.lines):
        _line(area, picture, index, line)
        _marked(area, picture, index, line)
    area.margins(x=0.04, y=0.08)
    _names(canvas, area, picture, edges=(right, top, bottom))
    canvas.write(0.3, 2.4, fitted(picture.axis, width - 1, SIZE), ha="left", size=SIZE)
    canvas.write((left + right) / 2, bottom + 8.4, say("round"), ha="center", size=SIZE)
    _legend(canvas, legend, top=bottom + 11.0)
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


def _marked(area: "Axes", picture: Rounds, index: int, line: Line) -> None:
    """A ring around a run out of line; a cross, half way between its neighbours, for one taken out."""
    scores = dict(zip(picture.rounds, line.scores, strict=True))
    looks: dict[str, Any] = {"linestyle": "none", "markerfacecolor": "none"}
    rings = [(number, score) for number, score in scores.items() if number in line.odd and score is not None]
    for x, y in rings:
        area.plot([x], [y], marker="o", markersize=RING, markeredgecolor=palette.INK, **looks)
    looks |= {"marker": "x", "markersize": CROSS, "markeredgewidth": 1.6, "markeredgecolor": _colour(index)}
    for number in line.struck:
        at = _between(scores, number)
        if at is not None:
            area.plot([number], [at], **looks)


def _between(scores: dict[int, float | None], number: int) -> float | None:
    """Where a line without a score here would pass: half way between the scores before and after."""
    before = [score for at, score in scores.items() if at < number and score is not None][-1:]
    after = [score for at, score in scores.items() if at > number and score is not None][:1]
    known = before + after
    return sum(known) / len(known) if known else None


def _legend(canvas: Canvas, legend: list[tuple[str, str]], *, top: float) -> None:
    for place, (mark, says) in enumerate(legend):
        y, size = top + LEGEND * (place + 0.5), CROSS if mark == "x" else RING
        canvas.place(_mark(3.0, y, mark, markersize=size, color=palette.INK, markerfacecolor="none"))
        canvas.write(6.5, y, fitted(says, canvas.width - 7, SMALL), ha="left", size=SMALL)


def _mark(x: float, y: float, shape: str, **looks: Any) -> "Line2D":
    from matplotlib.lines import Line2D

    return Line2D([x], [y], linestyle="none", marker=shape, **looks)


def _names(canvas: Canvas, area: "Axes", picture: Rounds, *, edges: tuple[float, float, float]) -> None:
    right, top, bottom = edges
    low, high = area.get_ylim()
    wanted = []
    for index, line in enumerate(picture.lines):
        last = next((score for score in reversed(line.scores) if score is not None), None)
        if last is not None:
            wanted.append((top + (high - last) / ((high - low) or 1.0) * (bottom - top), index, line.name))
    for y, index, name in _apart(sorted(wanted), top, bottom):
        shape = _MARKS[index % len(_MARKS)]
        canvas.place(_mark(right + 2.5, y, shape, markersize=3.6, color=_colour(index)))
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
