"""Messages about the checks that guard a trial (spare copy, known weakener), and about people."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech, sentences

MOST_TOLD = 3


def twin_differs(speech: Speech, evidence: doc.Entry) -> str:
    """The twin is not within noise of its fellow."""
    return sentences(
        *_each([_twin(speech, twin) for twin in (evidence, *evidence.get("others", ()))]),
        say(
            "Something else than the {thing} moves the readings (a joint, the aim, the order of the runs): "
            "find it and run the trial again.",
            thing=speech.things.one,
        ),
    )


def pad_not_seen(speech: Speech, evidence: doc.Entry) -> str:
    """The pad was not detected, or too little of it."""
    return sentences(
        *_each([_pad(speech, pad) for pad in (evidence, *evidence.get("others", ()))]),
        say(
            "A trial that misses this would miss a smaller difference too. Look for readings at the end of "
            "the scale, a level held constant by the receiver, or an attenuator that is not in line."
        ),
    )


def safety(_speech: Speech, _evidence: doc.Entry) -> str:
    """Points to the safety part, which every report carries."""
    return say("Work at a mast can kill. Read the part on safety at the end before the next run.")


def _each(told: list[str]) -> list[str]:
    """The first controls one by one, the rest counted."""
    more = len(told) - MOST_TOLD
    rest = say("So with {number} more.", number=numerals.count(more)) if more > 0 else ""
    return [*told[:MOST_TOLD], rest]


def _twin(speech: Speech, twin: doc.Entry) -> str:
    return say(
        "{twin} is a copy of {element} and should read the same, but they differ by {difference}.",
        twin=speech.name(twin["twin"]),
        element=speech.name(twin["of"]),
        difference=_found(speech, twin),
    )


def _pad(speech: Speech, pad: doc.Entry) -> str:
    known = pad["pad_db"]
    return say(
        _PADS[pad["why"]],
        pad=speech.name(pad["pad"]),
        element=speech.name(pad["of"]),
        loss=say("a known loss") if known is None else say("{loss} dB", loss=numerals.plain(known)),
        difference=_found(speech, pad),
    )


_PADS: Final = {
    "not a clear winner": marked(
        "{pad} is {element} with {loss} in line, yet the readings do not show it to be clearly weaker."
    ),
    "too small": marked(
        "{pad} is {element} with {loss} in line, yet the readings show it weaker by {difference} only."
    ),
}


def _found(speech: Speech, evidence: doc.Entry) -> str:
    low, high, difference = evidence["low"], evidence["high"], evidence["difference"]
    if low is None or high is None:
        return speech.seen(difference) if difference is not None else say("an unknown amount")
    middle = speech.amount(difference, numerals.half_width(low, high))
    return f"{middle} ({speech.between(low, high)})"
