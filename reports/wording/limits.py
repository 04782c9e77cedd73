"""What the trial does not show."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech


def sentences(speech: Speech) -> list[str]:
    """Three to six sentences, the most general first."""
    found = [_items(speech), _scale(speech), _signals(speech), _others(speech), _why(speech)]
    return [sentence for sentence in found if sentence]


def _items(speech: Speech) -> str:
    place = "" if speech.trial["compares"] == "site" else " at this site,"
    number = len(doc.competing(speech.document))
    one = f"this one {speech.things.one} as it was"
    tried = one if number == 1 else f"these {speech.compared(number)} as they were"
    return f"It holds for {tried},{place} on the days of the scans; elsewhere or later it may differ."


def _scale(speech: Speech) -> str:
    if not speech.unitless:
        return "It shows differences between readings of one meter, not gain or efficiency."
    unit = "per cent" if speech.trial["meter"]["unit"] == "percent" else "bar"
    return f"It shows no decibels, gain or efficiency: a {unit} is a step of this meter's own scale."


def _signals(speech: Speech) -> str:
    used, scanned = len(doc.signals(speech.document)), len(doc.all_signals(speech.document))
    if used == 0:
        return ""
    left = scanned - used
    out = f" {numerals.number_of(left, 'signal', 'signals')} had to be left out." if left > 0 else ""
    if used == 1:
        return f"It rests on one signal, and says nothing about any other.{out}"
    return (
        f"It speaks of the average over {numerals.count(used)} signals; on one of them the order may "
        f"differ.{out}"
    )


def _others(speech: Speech) -> str:
    best = speech.verdict["winner"]
    pairs = [pair for pair in speech.document["pairs"] if best not in (pair["first"], pair["second"])]
    competing = {entry["id"] for entry in doc.competing(speech.document)}
    open_ = [p for p in pairs if p["outcome"] == doc.MORE and {p["first"], p["second"]} <= competing]
    if best is None or not open_:
        return ""
    return f"That {speech.name(best)} is the best of these is settled. Which of the others differ is not yet."


def _why(speech: Speech) -> str:
    if speech.trial["compares"] != "element":
        return ""
    return "It does not show why one reads higher: metal, thickness, length and joint are tried together."
