"""The pictures of a report, drawn as SVG; one chart a file. Nothing here knows the analysis document."""

from typing import TYPE_CHECKING

from reports.charts.canvas import TextAs, settings
from reports.charts.pictures import Metals, Pairs, Picture, Ranking, Rates, Rounds

if TYPE_CHECKING:
    from reports.charts.canvas import Canvas


def svg(picture: Picture, *, width: float, text_as: TextAs) -> bytes:
    """A picture at a width in millimetres; its letters as text (for PDF) or as outlines (for any browser)."""
    with settings(text_as):
        return _draw(picture, width).svg()


def _draw(picture: Picture, width: float) -> "Canvas":
    from reports.charts import metals, pairs, ranking, rates, rounds, tiles

    if isinstance(picture, Ranking):
        return ranking.draw(picture, width)
    if isinstance(picture, Pairs):
        return pairs.draw(picture, width)
    if isinstance(picture, Rounds):
        return rounds.draw(picture, width)
    if isinstance(picture, Rates):
        return rates.draw(picture, width)
    if isinstance(picture, Metals):
        return metals.draw(picture, width)
    return tiles.draw(picture, width)
