"""The ranking: a picture with intervals and margin, and how an element stands in words and numbers."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Ranking
from reports.language import marked, say
from reports.view.model import Bounds, Draw, Figure
from reports.wording.speech import Speech
from reports.wording.vocabulary import LEADS

STANDINGS: Final = {
    "leads": marked("leads"),
    "shares the lead": marked("shares the lead"),
    "behind the leader": marked("behind the leader"),
    "not told apart yet": marked("not told apart yet"),
}
"""How a reader is told where an element stands."""


def figure(speech: Speech, draw: Draw, bounds: Bounds) -> tuple[Figure, ...]:
    """The picture, or nothing where there are no two scores to compare."""
    entries = doc.in_order(speech.document)[: bounds.picture_rows]
    bars = tuple(_bar(speech, entry) for entry in entries)
    if sum(bar.value is not None for bar in bars) < 2:
        return ()
    unit = speech.unit.level
    picture = Ranking(
        bars,
        band(speech),
        say("as good as the best: within {margin} of it", margin=speech.margin()),
        say("average reading ({unit})", unit=unit),
    )
    seen = [f"{bar.name}: {_said(speech, entry)}" for bar, entry in zip(bars, entries, strict=True)]
    alt = say(
        "Ranking by average reading in {unit}, with intervals. {elements}.",
        unit=unit,
        elements="; ".join(seen),
    )
    return (Figure(draw(picture), alt, _caption(speech), "ranking"),)


def score(speech: Speech, value: float | None) -> str:
    """A score, rounded as the differences between the elements are."""
    return numerals.estimate(value, uncertainty(speech))


def uncertainty(speech: Speech) -> float | None:
    """What scores are rounded by: the narrowest reach of an interval, else the noise or the meter's step.

    Without one the larger of these counts: few rounds on a coarse meter look quieter than they are.
    """
    widths = [
        numerals.half_width(*doc.ends(entry["score_interval"])) for entry in speech.document["elements"]
    ]
    known = doc.known(widths)
    if known:
        return min(known)
    noise = speech.document["repeatability"]
    return max(filter(None, (noise and noise["sd"], doc.resolution(speech.document))), default=None)


def standing(speech: Speech, entry: doc.Entry) -> str:
    """Where an element stands, in words; twins and pads are said to be what they are."""
    given = next(item for item in speech.trial["elements"] if item["id"] == entry["id"])
    if entry["role"] == "twin":
        return say("spare copy of {element}", element=speech.label(given["twin_of"]))
    if entry["role"] == "pad":
        return say("{element}, weakened on purpose", element=speech.label(given["pad_of"]))
    return _unlike_the_present(speech, entry) or _as_it_stands(entry)


def in_short(speech: Speech, entry: doc.Entry) -> str:
    """The same in few words: of which element a control is, the table of elements says."""
    if entry["role"] == "twin":
        return say("spare copy")
    if entry["role"] == "pad":
        return say("weakened on purpose")
    return standing(speech, entry)


def as_the_verdict_has_it(speech: Speech, entry: doc.Entry) -> str:
    """The same, but that whoever is ahead is said to lead only where the verdict is a clear winner."""
    if entry["standing"] == "leads" and not _unlike_the_present(speech, entry):
        return say(LEADS[speech.verdict["outcome"]])
    return in_short(speech, entry)


def _as_it_stands(entry: doc.Entry) -> str:
    return say(STANDINGS[entry["standing"]]) if entry["standing"] else say("not judged")


def _unlike_the_present(speech: Speech, entry: doc.Entry) -> str:
    """What is said of one that competes instead of where it stands now; "" where nothing is."""
    if len(doc.competing(speech.document)) == 1:
        return say("nothing to compare with")
    if entry["standing"] and not any(pair["interval"] for pair in speech.document["pairs"]):
        return _without_intervals(speech, entry)
    winner, best = speech.verdict["winner"], doc.leader(speech.document)
    if speech.verdict["outcome"] == doc.WITHIN and entry["standing"] == "not told apart yet":
        return _as_good(speech, entry)
    if winner is None or best is None or winner == best["id"]:
        return ""
    if entry["id"] == winner:
        return say("best, settled in round {number}", number=speech.verdict["decided_at_round"])
    return say("highest now") if entry["id"] == best["id"] else ""


def _as_good(speech: Speech, entry: doc.Entry) -> str:
    """What an earlier decision says of one that the rounds up to now alone would not settle."""
    if entry["id"] not in speech.verdict["leading"]:
        return ""
    return say("as good, settled in round {number}", number=speech.verdict["decided_at_round"])


def _without_intervals(speech: Speech, entry: doc.Entry) -> str:
    if entry["rank"] != 1:
        return say("not told apart yet")
    if doc.level_at_top(speech.document):
        return say("level, by chance or not")
    return say("ahead, by chance or not")


def behind(speech: Speech, entry: doc.Entry) -> str:
    """How far an element is behind the leader: "0.54 (0.22 to 0.87)"; "" for the leader itself."""
    best = doc.leader(speech.document)
    unjudged = entry["role"] == "competes" and entry["rank"] is None
    if best is None or entry["id"] == best["id"] or entry["score"] is None or unjudged:
        return ""
    ends = entry["score_interval"]
    gap = best["score"] - entry["score"]
    if not ends:
        return numerals.estimate(gap, uncertainty(speech))
    low, high = best["score"] - ends["high"], best["score"] - ends["low"]
    return f"{numerals.estimate(gap, numerals.half_width(low, high))} ({numerals.between(low, high)})"


def _bar(speech: Speech, entry: doc.Entry) -> Bar:
    low, high = doc.ends(entry["score_interval"])
    mark = "control" if entry["role"] != "competes" else "lead" if entry["rank"] == 1 else "plain"
    return Bar(
        name=speech.label(entry["id"]),
        minus="",
        value=entry["score"],
        low=low,
        high=high,
        says=in_short(speech, entry),
        mark=mark,
    )


def band(speech: Speech) -> tuple[float, float] | None:
    """The margin around the leader's score, or None where nobody leads."""
    best = doc.leader(speech.document)
    if best is None or best["score"] is None:
        return None
    return best["score"] - speech.trial["margin"], best["score"] + speech.trial["margin"]


def _said(speech: Speech, entry: doc.Entry) -> str:
    value, span = entry["score"], numerals.between(*doc.ends(entry["score_interval"]))
    parts = [
        score(speech, value) if value is not None else "",
        say("between {span}", span=span) if span else "",
        standing(speech, entry),
    ]
    return ", ".join(part for part in parts if part)


def _caption(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    if not any(entry["score_interval"] for entry in speech.document["elements"]):
        return say("Average reading of each; no intervals can be given yet, so distances may be chance.")
    return say(
        "Diamond: the leader. Lines: where each truly lies, seen from the leader ({level}); inside the "
        "hatched band the difference is too small to act on.",
        level=level,
    )
