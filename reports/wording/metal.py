"""Could the metal explain this? Sentences on what conductor loss alone can make."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed

MOST_PAIRS = 12
ENOUGH = 1.0
NEARLY = 3.0
NO_DECIBELS = "The meter shows no decibels, so none of that can be held against its readings."
_FIELDS = {
    "material": "its metal",
    "coating": "its coating",
    "diameter_mm": "its diameter",
    "gauge": "the table of its gauge",
    "length_mm": "its length",
}


def answers(speech: Speech) -> list[str]:
    """One sentence for each element that the leader is held against, and what the meter forbids to ask."""
    found = speech.document["conductor_loss"]
    said = [_answer(speech, found, pair) for pair in found["pairs"][:MOST_PAIRS]]
    return said if found["in_decibels"] else [*said, NO_DECIBELS]


def most(pair: doc.Entry) -> str:
    """The most that the metals can make, in dB."""
    return f"{_decibels(pair['metal_bound_db'])} dB"


def basis(speech: Speech) -> str:
    """What the bound is and what it rests on."""
    found = speech.document["conductor_loss"]
    whole = all(pair["every_rf_channel"] for pair in found["pairs"])
    part = "" if whole else " Not every signal's frequency is known: the largest of those known is given."
    return (
        "Every metal turns a little of the signal into heat. The bound takes the losses of both metals in "
        "the skin of the conductor, the current as strong everywhere as at its strongest place, and the "
        "antenna as a loop or a half-wave dipole of the length given, whichever lets the metals make "
        f"more.{part}"
    )


def elsewhere() -> str:
    """What explains more than a metal can."""
    return (
        "What can make more than the metal: another length (it shifts the tuning), another diameter, a "
        "poor joint at the feed point (a few ohms can cost more than the metal), the aim and the height."
    )


def validity(speech: Speech) -> list[str]:
    """Where the formulas do not hold, by their own account."""
    rows = [row for row in speech.document["conductor_loss"]["rows"] if not row["valid"]]
    if not rows:
        return []
    reasons = list(dict.fromkeys(row["why"] for row in rows))
    signals = list(dict.fromkeys(doc.clean(row["rf_channel"]) for row in rows))
    return [f"Only bounds, no numbers, on RF channel {listed(signals)}: {' '.join(reasons[:2])}"]


def not_known(speech: Speech) -> list[str]:
    """Elements of which too little is known."""
    entries = [
        f"{speech.name(entry['element'])} ({listed([_FIELDS[field] for field in entry['wanting']])})"
        for entry in speech.document["conductor_loss"]["not_known"]
    ]
    return [f"Not taken in, for want of what stands in brackets: {listed(entries)}."] if entries else []


def _answer(speech: Speech, found: doc.Entry, pair: doc.Entry) -> str:
    leader, other = speech.name(found["leader"]), speech.name(pair["element"])
    if pair["metal_bound_db"] == 0:
        return f"{leader} and {other} are of one metal: it explains nothing between them."
    bound = f"Between {leader} and {other} the metals can make {most(pair)} at most"
    if not found["in_decibels"] or pair["difference"] is None:
        return f"{bound}."
    difference = pair["difference"]
    shown = speech.amount(difference, numerals.half_width(pair["low"], pair["high"]))
    return f"{bound}; the readings differ by {shown}. {_verdict(pair, abs(difference))}"


def _verdict(pair: doc.Entry, difference: float) -> str:
    if pair["outcome"] != doc.CLEAR:
        return "That difference is not settled, so there is nothing to explain yet."
    times = difference / pair["metal_bound_db"]
    if times <= ENOUGH:
        return "The metal could explain it."
    if times <= NEARLY:
        return "The metal could explain a part of it, not all."
    return "The metal does not explain it: look elsewhere."


def _decibels(value: float) -> str:
    return f"under {numerals.fixed(0.001, 3)}" if value < 0.001 else numerals.two_digits(value)
