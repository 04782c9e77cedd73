"""The pictures of a report; one form of chart a file. Nothing here knows the analysis document."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Final

from reports.charts import (
    card,
    gains,
    grid,
    history,
    intervals,
    metals,
    rates,
    rounds,
    tiles,
)
from reports.charts import pictures as of
from reports.charts.canvas import TextAs, settings

if TYPE_CHECKING:
    from reports.charts.canvas import Canvas

DOTS_PER_INCH: Final = 152.4  # six dots a millimetre
_DRAWN: Final[Mapping[type[of.Picture], "Callable[[Any, float], Canvas]"]] = {
    of.Ranking: intervals.draw,
    of.Pairs: intervals.draw,
    of.Narrowing: intervals.draw,
    of.Grid: grid.draw,
    of.Rounds: rounds.draw,
    of.Gains: gains.draw,
    of.Tiles: tiles.draw,
    of.Rates: rates.draw,
    of.Metals: metals.draw,
    of.History: history.draw,
    of.Card: card.draw,
}


def svg(picture: of.Picture, *, width: float, text_as: TextAs) -> bytes:
    """A picture at a width in millimetres; its letters as text (for PDF) or as outlines (for any browser)."""
    with settings(text_as):
        return _DRAWN[type(picture)](picture, width).svg()


def png(picture: of.Picture, *, width: float, description: str) -> bytes:
    """A picture at a width in millimetres, as dots to send around; what it shows in words is in the file."""
    with settings("outlines"):
        drawn = _DRAWN[type(picture)](picture, width)
        return drawn.png(dots_per_inch=DOTS_PER_INCH, description=description)
