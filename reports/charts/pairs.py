"""Every pair as a difference with its interval, over the margin on both sides of zero."""

from reports.charts import intervals
from reports.charts.canvas import Canvas
from reports.charts.pictures import Pairs


def draw(picture: Pairs, width: float) -> Canvas:
    """The picture at a width in millimetres."""
    return intervals.draw(picture, width)
