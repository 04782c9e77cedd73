"""What stands on the picture of a verdict beside its sentence: the trial in words."""

from collections.abc import Iterator

from reports import document as doc
from reports import numerals
from reports.wording import cautions
from reports.wording.speech import Speech

MOST_CAUTIONS = 3
LEADS = {
    doc.CLEAR: "leads",
    doc.WITHIN: "shares the lead",
    doc.MORE: "highest so far, not settled",
}


def facts(speech: Speech, *, drawn: bool) -> Iterator[str]:
    """How large the trial was, when, what the intervals are, what the unit is; the dearest first."""
    yield _size(speech)
    yield from _more_rounds(speech)
    yield from _cautions(speech)
    yield _unit(speech)
    if drawn:
        yield _intervals(speech)
    else:
        yield f"The smallest difference acted on: {speech.margin()}."


def foot(speech: Speech, scanned: str) -> str:
    """When it was scanned, which report says more, and how often such a verdict is false."""
    rate = numerals.in_a_hundred(doc.error_rate(speech.document))
    found = doc.clean(speech.document["provenance"]["report_id"])
    return (
        f"{scanned} \N{MIDDLE DOT} report {found} \N{MIDDLE DOT} at most {rate} of 100 such trials "
        "name a false winner"
    )


def nothing_to_draw(speech: Speech) -> str:
    """Said in place of the intervals."""
    if len(doc.competing(speech.document)) < 2:
        return f"There is only one {speech.things.one}: no interval to draw."
    return f"No level of two {speech.things.many}: no interval to draw."


def _unit(speech: Speech) -> str:
    is_not = "decibels, gain or efficiency" if speech.unitless else "gain, efficiency or field strength"
    return f"In {speech.unit.name}: not {is_not}."


def _size(speech: Speech) -> str:
    controls = len(doc.controls(speech.document))
    compared = speech.compared(len(doc.competing(speech.document)))
    beside = f" and {numerals.number_of(controls, 'control', 'controls')}" if controls else ""
    signals = numerals.number_of(len(doc.all_signals(speech.document)), "signal", "signals")
    channels = numerals.number_of(len(speech.document["channels"]), "channel", "channels")
    rounds = speech.rounds(speech.verdict["rounds_done"])
    return f"The trial: {compared}{beside}, {rounds}, {channels} on {signals}."


def _more_rounds(speech: Speech) -> Iterator[str]:
    more, safe = speech.verdict["more_rounds"], speech.verdict["more_rounds_safe"]
    if speech.verdict["outcome"] == doc.MORE and more:
        perhaps = f", perhaps {numerals.count(safe)}" if safe and safe > more else ""
        yield f"Still to run: about {speech.rounds(more)}{perhaps}."


def _intervals(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    if any(entry["score_interval"] for entry in doc.competing(speech.document)):
        return f"Lines: where each truly lies, seen from the highest ({level})."
    return "No interval can be given yet: the distances may be chance."


def _cautions(speech: Speech) -> Iterator[str]:
    found = [entry for entry in speech.document["cautions"] if entry["severity"] in ("stop", "warning")]
    ordered = sorted(found, key=lambda entry: entry["severity"] != "stop")
    titles = list(dict.fromkeys(cautions.phrase(entry["code"]) for entry in ordered))
    if titles:
        more = [f"{len(titles) - MOST_CAUTIONS} more"] if len(titles) > MOST_CAUTIONS else []
        yield f"Keep in mind: {'; '.join([*titles[:MOST_CAUTIONS], *more])}."
