"""Could the metal explain this? Sentences on what conductor loss alone can make."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording import formula_limits
from reports.wording.speech import Speech, listed, sentences

MOST_PAIRS = 12
MOST_REASONS = 2
ENOUGH = 1.0
NEARLY = 3.0
LEAST_TOLD = 0.001  # dB
NO_DECIBELS = marked("The meter shows no decibels, so none of that can be held against its readings.")
_FIELDS = {
    "material": marked("its metal"),
    "coating": marked("its coating"),
    "diameter_mm": marked("its diameter"),
    "gauge": marked("the table of its gauge"),
    "length_mm": marked("its length"),
}


def answers(speech: Speech) -> list[str]:
    """One sentence for each element that the leader is held against, and what the meter forbids to ask."""
    found = speech.document["conductor_loss"]
    said = [_answer(speech, found, pair) for pair in found["pairs"][:MOST_PAIRS]]
    return said if found["in_decibels"] else [*said, say(NO_DECIBELS)]


def most(pair: doc.Entry) -> str:
    """The most that the metals can make, in dB."""
    return f"{_decibels(pair['metal_bound_db'])} dB"


def basis(speech: Speech) -> str:
    """What the bound is and what it rests on."""
    found = speech.document["conductor_loss"]
    whole = all(pair["every_rf_channel"] for pair in found["pairs"])
    return sentences(
        say(
            "Every metal turns a little of the signal into heat. The bound takes the losses of both metals "
            "in the skin of the conductor, the current as strong everywhere as at its strongest place, and "
            "the antenna as a loop or a half-wave dipole of the length given, whichever lets the metals "
            "make more."
        ),
        "" if whole else say("Not every signal's frequency is known: the largest of those known is given."),
    )


def elsewhere() -> str:
    """What explains more than a metal can."""
    return say(
        "What can make more than the metal: another length (it shifts the tuning), another diameter, a "
        "poor joint at the feed point (a few ohms can cost more than the metal), the aim and the height."
    )


def validity(speech: Speech) -> list[str]:
    """Where the formulas do not hold, by their own account."""
    rows = [row for row in speech.document["conductor_loss"]["rows"] if not row["valid"]]
    if not rows:
        return []
    reasons = list(dict.fromkeys(formula_limits.said(row) for row in rows))[:MOST_REASONS]
    signals = list(dict.fromkeys(doc.clean(row["rf_channel"]) for row in rows))
    return [
        say(
            "Only bounds, no numbers, on RF channel {signals}: {reasons}",
            signals=listed(signals),
            reasons=" ".join(reasons),
        )
    ]


def not_known(speech: Speech) -> list[str]:
    """Elements of which too little is known."""
    entries = [
        f"{speech.name(entry['element'])} ({listed([say(_FIELDS[field]) for field in entry['wanting']])})"
        for entry in speech.document["conductor_loss"]["not_known"]
    ]
    if not entries:
        return []
    return [say("Not taken in, for want of what stands in brackets: {elements}.", elements=listed(entries))]


def _answer(speech: Speech, found: doc.Entry, pair: doc.Entry) -> str:
    names = {"leader": speech.name(found["leader"]), "other": speech.name(pair["element"])}
    if pair["metal_bound_db"] == 0:
        return say("{leader} and {other} are of one metal: it explains nothing between them.", **names)
    if not found["in_decibels"] or pair["difference"] is None:
        return say(
            "Between {leader} and {other} the metals can make {bound} at most.", bound=most(pair), **names
        )
    difference = pair["difference"]
    shown = speech.amount(difference, numerals.half_width(pair["low"], pair["high"]))
    first = say(
        "Between {leader} and {other} the metals can make {bound} at most; the readings differ by "
        "{difference}.",
        bound=most(pair),
        difference=shown,
        **names,
    )
    return sentences(first, _verdict(pair, abs(difference)))


def _verdict(pair: doc.Entry, difference: float) -> str:
    if pair["outcome"] != doc.CLEAR:
        return say("That difference is not settled, so there is nothing to explain yet.")
    times = difference / pair["metal_bound_db"]
    if times <= ENOUGH:
        return say("The metal could explain it.")
    if times <= NEARLY:
        return say("The metal could explain a part of it, not all.")
    return say("The metal does not explain it: look elsewhere.")


def _decibels(value: float) -> str:
    if value < LEAST_TOLD:
        return say("under {least}", least=numerals.fixed(LEAST_TOLD, 3))
    return numerals.two_digits(value)
