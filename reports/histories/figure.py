"""The picture of a history: the trials over dates, the line through them, the margin."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import History
from reports.dates import day
from reports.histories.ticks import ticks
from reports.view.model import Draw, Figure
from reports.wording.design_history import span
from reports.wording.vocabulary import UNITS

LINE_ROOM = 1.5  # how far beyond points and margin the line's interval is still shown, in their own height
EDGE = 0.06


def figure(document: doc.Document, draw: Draw) -> Figure:
    """The picture with its words."""
    picture = history_picture(document)
    words = {"alt": _alt(document), "caption": _caption(picture)}
    return Figure(image=draw(picture), kind="history", **words)


def history_picture(document: doc.Document) -> History:
    """What is drawn."""
    trend, points = document["trend"], document["points"]
    level = numerals.per_cent(document["confidence"])
    line = tuple((at["days"], at["value"], at["low"], at["high"]) for at in trend["line"])
    band = line[0][1] - document["margin"], line[0][1] + document["margin"]
    unit = UNITS[document["unit"]].many
    names = doc.clean(document["element_label"]), doc.clean(document["reference_label"])
    drawn = tuple(
        (one["days"], one["difference"], one["interval"]["low"], one["interval"]["high"]) for one in points
    )
    return History(
        points=drawn,
        line=line,
        band=band,
        ticks=ticks(points[0]["date"], trend["span_days"]),
        ends=_ends(drawn, line, band),
        points_say=f"a trial and its {level} interval",
        line_says="line through the trials",
        ends_say=f"its {level} interval",
        band_says=f"the margin of {numerals.plain(document['margin'])} from its beginning",
        axis=f"{names[0]} {numerals.MINUS} {names[1]}, in {unit}",
        along="date",
    )


def _ends(
    points: tuple[tuple[float, float, float | None, float | None], ...],
    line: tuple[tuple[float, float, float | None, float | None], ...],
    band: tuple[float, float],
) -> tuple[float, float]:
    """The axis holds points, line and margin whole; the line's interval as far as leaves them readable."""
    needed = [*band, *(at[1] for at in line)]
    needed += [value for point in points for value in point[1:] if value is not None]
    low, high = min(needed), max(needed)
    room = LINE_ROOM * (high - low)
    low = min([low, *(max(at[2], low - room) for at in line if at[2] is not None)])
    high = max([high, *(min(at[3], high + room) for at in line if at[3] is not None)])
    edge = EDGE * (high - low)
    return low - edge, high + edge


def _alt(document: doc.Document) -> str:
    points = document["points"]
    told = [
        f"{day(one['date'])} {numerals.signed(one['difference'], _width(one['interval']))}" for one in points
    ]
    names = doc.clean(document["element_label"]), doc.clean(document["reference_label"])
    unit = UNITS[document["unit"]].many
    change, width = document["trend"]["change"], _width(document["trend"])
    return (
        f"{names[0]} less {names[1]} by date, in {unit}: {'; '.join(told)}. The line through them changes by "
        f"{numerals.signed(change, width)} {span(document['trend']['span_days'])}."
    )


def _caption(picture: History) -> str:
    low, high = picture.ends
    cut = any(at[2] is not None and (at[2] < low or at[3] > high) for at in picture.line)  # type: ignore[operator] # both or none
    beyond = " The interval of the line goes beyond the picture." if cut else ""
    return (
        "Each trial by its date, the straight line through them, and the margin around where the line begins."
        f"{beyond}"
    )


def _width(interval: doc.Entry) -> float | None:
    return numerals.half_width(interval["low"], interval["high"])
