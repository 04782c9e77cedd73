"""The verdict as one picture to show: what it says, how sure, and of how large a trial."""

from reports import dates, numerals
from reports import document as doc
from reports.charts.pictures import Bar, Card
from reports.view import ranking
from reports.wording import card as words
from reports.wording.speech import Speech

MOST_BARS = {"wide": 6, "square": 3}


def picture(speech: Speech, shape: str) -> Card:
    """The card of a completed document; KeyError for a shape that is not known."""
    judged = [entry for entry in doc.ranked(speech.document) if entry["score"] is not None]
    shown = judged[: MOST_BARS[shape]]
    bars = tuple(_bar(speech, entry) for entry in shown) if len(judged) > 1 else ()
    left_out = len(doc.competing(speech.document)) - len(bars)
    return Card(
        shape=shape,
        title=doc.clean(speech.trial["title"] or "") or f"Trial of {speech.things.many}",
        outcome=speech.verdict["outcome"],
        statement=speech.verdict["statement"],
        bars=bars,
        band=ranking.band(speech) if bars else None,
        band_says=f"too small to act on: within {speech.margin()} of the highest",
        axis=f"average reading ({speech.unit.level})",
        left_out=f"and {numerals.count(left_out)} more" if bars and left_out else "",
        no_bars=words.nothing_to_draw(speech),
        facts=tuple(words.facts(speech, drawn=bool(bars))),
        foot=words.foot(speech, _scanned(speech)),
    )


def _scanned(speech: Speech) -> str:
    found = speech.document["provenance"]
    return f"scanned {dates.scanned(found)}" if found["first_at"] else "no date: the readings carry no times"


def _bar(speech: Speech, entry: doc.Entry) -> Bar:
    """A row of the ranking; only a clear winner is marked, and nobody else is said to lead."""
    ends = entry["score_interval"] or {"low": None, "high": None}
    says = ranking.in_short(speech, entry)
    return Bar(
        name=speech.label(entry["id"]),
        minus="",
        value=entry["score"],
        low=ends["low"],
        high=ends["high"],
        says=words.LEADS[speech.verdict["outcome"]] if says == "leads" else says,
        mark="lead" if entry["id"] == speech.verdict["winner"] else "plain",
    )
