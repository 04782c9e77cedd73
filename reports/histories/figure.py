"""The picture of a history: the trials over dates, the line through them, the margin."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import History
from reports.dates import day
from reports.histories.ticks import ticks
from reports.language import say
from reports.view.model import Draw, Figure
from reports.wording.history_speech import span
from reports.wording.speech import sentences
from reports.wording.vocabulary import UNITS

LINE_ROOM = 1.5  # how far beyond points and margin the line's interval is still shown, in their own height
EDGE = 0.06


def figure(document: doc.Document, draw: Draw) -> Figure:
    """The picture with its words."""
    picture = history_picture(document)
    return Figure(image=draw(picture), alt=_alt(document), caption=_caption(picture), kind="history")


def history_picture(document: doc.Document) -> History:
    """What is drawn."""
    trend, points = document["trend"], document["points"]
    level = numerals.per_cent(document["confidence"])
    line = tuple((at["days"], at["value"], at["low"], at["high"]) for at in trend["line"])
    band = line[0][1] - document["margin"], line[0][1] + document["margin"]
    drawn = tuple(
        (one["days"], one["difference"], one["interval"]["low"], one["interval"]["high"]) for one in points
    )
    return History(
        points=drawn,
        line=line,
        band=band,
        ticks=ticks(points[0]["date"], trend["span_days"]),
        ends=_ends(drawn, line, band),
        points_say=say("a trial and its {level} interval", level=level),
        line_says=say("line through the trials"),
        ends_say=say("its {level} interval", level=level),
        band_says=say("the margin of {margin} from its beginning", margin=numerals.plain(document["margin"])),
        axis=say("{element} \N{MINUS SIGN} {reference}, in {unit}", **_names(document)),
        along=say("date"),
    )


def _names(document: doc.Document) -> dict[str, str]:
    """Of what the differences are, and in what unit."""
    return {
        "element": doc.clean(document["element_label"]),
        "reference": doc.clean(document["reference_label"]),
        "unit": UNITS[document["unit"]].many,
    }


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
    points, trend = document["points"], document["trend"]
    told = [
        f"{day(one['date'])} {numerals.signed(one['difference'], _width(one['interval']))}" for one in points
    ]
    return say(
        "{element} less {reference} by date, in {unit}: {points}. The line through them changes by {change} "
        "{over_days}.",
        points="; ".join(told),
        change=numerals.signed(trend["change"], _width(trend)),
        over_days=span(trend["span_days"]),
        **_names(document),
    )


def _caption(picture: History) -> str:
    low, high = picture.ends
    cut = any(at[2] is not None and (at[2] < low or at[3] > high) for at in picture.line)  # type: ignore[operator] # both or none
    return sentences(
        say(
            "Each trial by its date, the straight line through them, and the margin around where the line "
            "begins."
        ),
        say("The interval of the line goes beyond the picture.") if cut else "",
    )


def _width(interval: doc.Entry) -> float | None:
    return numerals.half_width(interval["low"], interval["high"])
