"""How many of a thousand trials of equals went wrong, by kind of noise, against what is promised."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch, key
from reports.charts.letters import SIZE, SMALL, broken, fitted, width_of
from reports.charts.pictures import Rate, Rates

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW: Final = 4.0
ENTRY: Final = 4.2  # of the legend
NEXT_LINE: Final = 3.2  # of the same entry
FOOT: Final = 9.6
GAP: Final = 3.0
NARROW: Final = 120.0
APART: Final = 0.16  # of a row, between the two marks of one noise
_MARKS: Final = {"called": ("D", palette.COPPER, palette.COPPER), "named": ("o", palette.INK, palette.PAPER)}


@dataclass(frozen=True)
class _Entry:
    """One entry of the legend: where its words begin, its upper edge, and the words line by line."""

    kind: str
    x: float
    top: float
    says: tuple[str, ...]

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.top + ENTRY + NEXT_LINE * (len(self.says) - 1)


def draw(picture: Rates, width: float) -> Canvas:
    """The picture at a width in millimetres; its height follows the kinds of noise and the legend's lines.

    Names stand left of their rows, on a narrow sheet above them; the two marks differ in shape and filling.
    """
    narrow = width < NARROW
    row = ROW * 2.1 if narrow else ROW
    names = max(width_of(rate.name) for rate in picture.rates)
    left = 1.5 if narrow else min(names, width * 0.4) + GAP
    legend = _legend(picture, left, width)
    head = legend[-1].bottom + 1.6
    canvas = Canvas(width, head + row * len(picture.rates) + FOOT)
    area = canvas.axes(left, head, right=width - 2.0, bottom=canvas.height - FOOT)
    _axis(area, picture)
    _marks(area, picture.rates, sunk=0.22 if narrow else 0.0)
    for place, rate in enumerate(picture.rates):
        middle = head + row * (place + (0.2 if narrow else 0.5))
        _name(canvas, rate, middle, room=width - 4.0 if narrow else left - GAP, narrow=narrow)
    _draw_legend(canvas, legend)
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


def _legend(picture: Rates, left: float, width: float) -> tuple[_Entry, ...]:
    """Both marks beside one another where their words have room, else below; the band below them."""
    x, beside = left + 4.0, left + 10.0 + width_of(picture.called_says, SMALL)
    called = _entry("called", picture.called_says, x=x, top=0.0, right=width - 0.5)
    if beside + width_of(picture.named_says, SMALL) <= width - 0.5:
        named = _entry("named", picture.named_says, x=beside, top=0.0, right=width - 0.5)
    else:
        named = _entry("named", picture.named_says, x=x, top=called.bottom, right=width - 0.5)
    band = _entry("band", picture.promise_says, x=left + 7.2, top=named.bottom, right=width - 0.5)
    return called, named, band


def _entry(kind: str, says: str, *, x: float, top: float, right: float) -> _Entry:
    """Its words on as many lines as they need; a word that is longer than a line is cut."""
    lines = broken(says, right - x, SMALL)
    return _Entry(kind, x, top, tuple(fitted(text, right - x, SMALL) for text in lines))


def _draw_legend(canvas: Canvas, legend: tuple[_Entry, ...]) -> None:
    from matplotlib.lines import Line2D

    for entry in legend:
        y = entry.top + 2.4
        if entry.kind in _MARKS:
            shape, edge, face = _MARKS[entry.kind]
            looks: dict[str, Any] = {"markersize": 4.4, "markerfacecolor": face, "markeredgecolor": edge}
            canvas.place(Line2D([entry.x - 2.0], [y], linestyle="none", marker=shape, **looks))
        else:
            key(canvas, (entry.x - 7.2, y - 1.4, entry.x - 1.2, y + 1.4), facecolor=palette.BAND)
        for number, text in enumerate(entry.says):
            canvas.write(entry.x, y + NEXT_LINE * number, text, ha="left", size=SMALL)
