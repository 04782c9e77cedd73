"""The ranking with intervals and the margin band."""

from reports.charts import intervals
from reports.charts.canvas import Canvas
from reports.charts.pictures import Ranking


def draw(picture: Ranking, width: float) -> Canvas:
    """The picture at a width in millimetres."""
    return intervals.draw(picture, width)
