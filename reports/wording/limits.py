"""What the trial does not show."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.speech import Speech
from reports.wording.speech import sentences as after_one_another


def sentences(speech: Speech) -> list[str]:
    """Three to six sentences, the most general first."""
    found = [_items(speech), _scale(speech), _signals(speech), _others(speech), _why(speech)]
    return [sentence for sentence in found if sentence]


def _items(speech: Speech) -> str:
    tried = _tried(speech, len(doc.competing(speech.document)))
    if speech.trial["compares"] == "site":
        return say(
            "It holds for {elements}, on the days of the scans; elsewhere or later it may differ.",
            elements=tried,
        )
    return say(
        "It holds for {elements}, at this site, on the days of the scans; elsewhere or later it may differ.",
        elements=tried,
    )


def _tried(speech: Speech, number: int) -> str:
    if number == 1:
        return say("this one {element} as it was", element=speech.things.one)
    return say("these {elements} as they were", elements=speech.compared(number))


def _scale(speech: Speech) -> str:
    if not speech.unitless:
        return say("It shows differences between readings of one meter, not gain or efficiency.")
    if speech.trial["meter"]["unit"] == "percent":
        return say(
            "It shows no decibels, gain or efficiency: a per cent is a step of this meter's own scale."
        )
    return say("It shows no decibels, gain or efficiency: a bar is a step of this meter's own scale.")


def _signals(speech: Speech) -> str:
    used, scanned = len(doc.signals(speech.document)), len(doc.all_signals(speech.document))
    if used == 0:
        return ""
    return after_one_another(_average(used), _left_out(scanned - used))


def _average(used: int) -> str:
    if used == 1:
        return say("It rests on one signal, and says nothing about any other.")
    return say(
        "It speaks of the average over {signals}; on one of them the order may differ.",
        signals=numerals.number_of(used, "signal", "signals"),
    )


def _left_out(number: int) -> str:
    if number <= 0:
        return ""
    return say("{signals} had to be left out.", signals=numerals.number_of(number, "signal", "signals"))


def _others(speech: Speech) -> str:
    best = speech.verdict["winner"]
    pairs = [pair for pair in speech.document["pairs"] if best not in (pair["first"], pair["second"])]
    competing = {entry["id"] for entry in doc.competing(speech.document)}
    open_ = [p for p in pairs if p["outcome"] == doc.MORE and {p["first"], p["second"]} <= competing]
    if best is None or not open_:
        return ""
    return say(
        "That {element} is the best of these is settled. Which of the others differ is not yet.",
        element=speech.name(best),
    )


def _why(speech: Speech) -> str:
    if speech.trial["compares"] != "element":
        return ""
    return say(
        "It does not show why one reads higher: metal, thickness, length and joint are tried together."
    )
