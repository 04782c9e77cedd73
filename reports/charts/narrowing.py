"""The leader against the nearest rival at every look: how the interval narrowed, and where it was decided."""

from reports.charts import intervals
from reports.charts.canvas import Canvas
from reports.charts.pictures import Narrowing


def draw(picture: Narrowing, width: float) -> Canvas:
    """The picture at a width in millimetres, one row a look, the earliest on top."""
    return intervals.draw(picture, width)
