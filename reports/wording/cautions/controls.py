"""Messages about the checks that guard a trial (spare copy, known weakener), and about people."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech

MOST_TOLD = 3


def twin_differs(speech: Speech, evidence: doc.Entry) -> str:
    """The twin is not within noise of its fellow."""
    told = _each([_twin(speech, twin) for twin in (evidence, *evidence.get("others", ()))])
    return (
        f"{told} Something else than the {speech.things.one} moves the readings "
        "(a joint, the aim, the order of the runs): find it and run the trial again."
    )


def pad_not_seen(speech: Speech, evidence: doc.Entry) -> str:
    """The pad was not detected, or too little of it."""
    told = _each([_pad(speech, pad) for pad in (evidence, *evidence.get("others", ()))])
    return (
        f"{told} A trial that misses this would miss a smaller difference too. Look for readings at the end "
        "of the scale, a level held constant by the receiver, or an attenuator that is not in line."
    )


def safety(_speech: Speech, _evidence: doc.Entry) -> str:
    """Points to the safety part, which every report carries."""
    return "Work at a mast can kill. Read the part on safety at the end before the next run."


def _each(told: list[str]) -> str:
    """The first controls one by one, the rest counted."""
    more = len(told) - MOST_TOLD
    rest = f" So with {numerals.count(more)} more." if more > 0 else ""
    return f"{' '.join(told[:MOST_TOLD])}{rest}"


def _twin(speech: Speech, twin: doc.Entry) -> str:
    return (
        f"{speech.name(twin['twin'])} is a copy of {speech.name(twin['of'])} and should read the same, but "
        f"they differ by {_found(speech, twin)}."
    )


def _pad(speech: Speech, pad: doc.Entry) -> str:
    loss = f"{numerals.plain(pad['pad_db'])} dB" if pad["pad_db"] is not None else "a known loss"
    seen = {
        "not a clear winner": "yet the readings do not show it to be clearly weaker",
        "too small": f"yet the readings show it weaker by {_found(speech, pad)} only",
    }[pad["why"]]
    return f"{speech.name(pad['pad'])} is {speech.name(pad['of'])} with {loss} in line, {seen}."


def _found(speech: Speech, evidence: doc.Entry) -> str:
    low, high, difference = evidence["low"], evidence["high"], evidence["difference"]
    if low is None or high is None:
        return speech.seen(difference) if difference is not None else "an unknown amount"
    middle = speech.amount(difference, numerals.half_width(low, high))
    return f"{middle} ({speech.between(low, high)})"
