"""How many of a thousand trials of equals went wrong, by kind of noise, against what is promised."""

from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, fitted, width_of
from reports.charts.pictures import Rate, Rates

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW: Final = 4.0
HEAD: Final = 10.0
FOOT: Final = 9.6
GAP: Final = 3.0
NARROW: Final = 120.0
APART: Final = 0.16  # of a row, between the two marks of one noise
_MARKS: Final = {"called": ("D", palette.COPPER, palette.COPPER), "named": ("o", palette.INK, palette.PAPER)}


def draw(picture: Rates, width: float) -> Canvas:
    """The picture at a width in millimetres; its height follows the number of kinds of noise.

    Names stand left of their rows, on a narrow sheet above them; the two marks differ in shape and filling.
    """
    narrow = width < NARROW
    row = ROW * 1.75 if narrow else ROW
    canvas = Canvas(width, HEAD + row * len(picture.rates) + FOOT)
    names = max(width_of(rate.name) for rate in picture.rates)
    left = 1.5 if narrow else min(names, width * 0.4) + GAP
    area = canvas.axes(left, HEAD, right=width - 2.0, bottom=canvas.height - FOOT)
    _axis(area, picture)
    _marks(area, picture.rates, sunk=0.2 if narrow else 0.0)
    for place, rate in enumerate(picture.rates):
        middle = HEAD + row * (place + (0.24 if narrow else 0.5))
        _name(canvas, rate, middle, room=width - 4.0 if narrow else left - GAP, narrow=narrow)
    _legend(canvas, picture, left)
    canvas.write(
        (left + width) / 2, canvas.height - 2.6, fitted(picture.axis, width - 3), ha="center", size=SIZE
    )
    return canvas


def _axis(area: "Axes", picture: Rates) -> None:
    most = max([rate.called[1] for rate in picture.rates] + [picture.promise])
    area.set_xlim(0, most * 1.08)
    area.set_ylim(len(picture.rates) - 0.5, -0.5)
    area.set_yticks([])
    area.grid(visible=True, axis="x", color=palette.RULE, linewidth=0.4)
    area.set_axisbelow(True)
    area.axvspan(0, picture.promise, color=palette.BAND, linewidth=0, zorder=0.6)
    hatch(area, [(0.0, len(picture.rates) - 0.5, picture.promise, -0.5)])
    area.axvline(picture.promise, color=palette.INK, linewidth=0.8, zorder=1)


def _marks(area: "Axes", rates: tuple[Rate, ...], *, sunk: float) -> None:
    """A line from the fewest to the most of each noise, its mark at the most."""
    for name, side in (("called", -APART), ("named", APART)):
        shape, edge, face = _MARKS[name]
        ends = [getattr(rate, name) for rate in rates]
        places = [place + side + sunk for place in range(len(rates))]
        area.hlines(places, [low for low, _ in ends], [high for _, high in ends], color=edge, linewidth=1.2)
        area.plot(
            [high for _, high in ends],
            places,
            linestyle="none",
            marker=shape,
            markersize=4.4,
            markerfacecolor=face,
            markeredgecolor=edge,
            clip_on=False,
        )


def _name(canvas: Canvas, rate: Rate, y: float, *, room: float, narrow: bool) -> None:
    patch = {"bbox": {"facecolor": palette.PAPER, "edgecolor": "none", "pad": 0.5}} if narrow else {}
    canvas.write(1.5 if narrow else 0.3, y, fitted(rate.name, room), ha="left", size=SIZE, **patch)


def _legend(canvas: Canvas, picture: Rates, left: float) -> None:
    """Both marks and the band, each with its words, on two lines."""
    from matplotlib.lines import Line2D

    places = {"called": left + 2.0, "named": left + 8.0 + width_of(picture.called_says, SMALL)}
    for name, says in (("called", picture.called_says), ("named", picture.named_says)):
        shape, edge, face = _MARKS[name]
        at = places[name]
        looks: dict[str, Any] = {"markersize": 4.4, "markerfacecolor": face, "markeredgecolor": edge}
        canvas.place(Line2D([at], [2.4], linestyle="none", marker=shape, **looks))
        canvas.write(at + 2.0, 2.4, fitted(says, canvas.width - at - 2.5, SMALL), ha="left", size=SMALL)
    key(canvas, (left, 5.2, left + 6.0, 8.0), facecolor=palette.BAND)
    room = canvas.width - left - 8
    canvas.write(left + 7.2, 6.6, fitted(picture.promise_says, room, SMALL), ha="left", size=SMALL)
