"""The verdict as one picture to show: what it says, how sure, and of how large a trial."""

from reports import dates, numerals
from reports import document as doc
from reports.charts.letters import width_of
from reports.charts.pictures import Bar, Card
from reports.language import say, say_number
from reports.view import ranking
from reports.wording import card as words
from reports.wording.speech import Speech
from reports.wording.vocabulary import OUTCOMES

MOST_BARS = {"wide": 6, "square": 3}


def picture(speech: Speech, shape: str) -> Card:
    """The card of a completed document; KeyError for a shape that is not known."""
    judged = [entry for entry in doc.ranked(speech.document) if entry["score"] is not None]
    shown = judged[: MOST_BARS[shape]]
    bars = tuple(_bar(speech, entry) for entry in shown) if len(judged) > 1 else ()
    left_out = len(doc.competing(speech.document)) - len(bars)
    return Card(
        shape=shape,
        title=doc.clean(speech.trial["title"] or "") or say("Trial of {things}", things=speech.things.many),
        outcome=say(OUTCOMES[speech.verdict["outcome"]]),
        statement=speech.verdict["statement"],
        bars=bars,
        band=ranking.band(speech) if bars else None,
        band_says=say("too small to act on: within {margin} of the highest", margin=speech.margin()),
        axis=say("average reading ({unit})", unit=speech.unit.level),
        left_out=_more(left_out) if bars and left_out else "",
        no_bars=words.nothing_to_draw(speech),
        facts=tuple(words.facts(speech, drawn=bool(bars))),
        foot=words.foot(speech, _scanned(speech)),
        widest=max(map(say, OUTCOMES.values()), key=width_of),
    )


def _more(number: int) -> str:
    return say_number("and {number} more", "and {number} more", number, number=numerals.count(number))


def _scanned(speech: Speech) -> str:
    found = speech.document["provenance"]
    if not found["first_at"]:
        return say("no date: the readings carry no times")
    return say("scanned {days}", days=dates.scanned(found))


def _bar(speech: Speech, entry: doc.Entry) -> Bar:
    """A row of the ranking; only a clear winner is marked, and nobody else is said to lead."""
    low, high = doc.ends(entry["score_interval"])
    return Bar(
        name=speech.label(entry["id"]),
        minus="",
        value=entry["score"],
        low=low,
        high=high,
        says=ranking.as_the_verdict_has_it(speech, entry),
        mark="lead" if entry["id"] == speech.verdict["winner"] else "plain",
    )
