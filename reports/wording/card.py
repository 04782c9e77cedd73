"""What stands on the picture of a verdict beside its sentence: the trial in words."""

from collections.abc import Iterator

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording import cautions
from reports.wording.next_steps import perhaps_more
from reports.wording.speech import Speech, listed

MOST_CAUTIONS = 3


def facts(speech: Speech, *, drawn: bool) -> Iterator[str]:
    """How large the trial was, when, what the intervals are, what the unit is; the dearest first."""
    yield _size(speech)
    yield from _more_rounds(speech)
    yield from _cautions(speech)
    yield _unit(speech)
    if drawn:
        yield _intervals(speech)
    else:
        yield say("The smallest difference acted on: {margin}.", margin=speech.margin())


def foot(speech: Speech, scanned: str) -> str:
    """When it was scanned, which report says more, and how often such a verdict is false."""
    return say(
        "{scanned} · report {report} · at most {rate} of 100 such trials name a false winner",
        scanned=scanned,
        report=doc.clean(speech.document["provenance"]["report_id"]),
        rate=numerals.in_a_hundred(doc.error_rate(speech.document)),
    )


def nothing_to_draw(speech: Speech) -> str:
    """Said in place of the intervals."""
    if len(doc.competing(speech.document)) < 2:
        return say("There is only one {element}: no interval to draw.", element=speech.things.one)
    return say("No level of two {elements}: no interval to draw.", elements=speech.things.many)


def _unit(speech: Speech) -> str:
    if speech.unitless:
        return say("In {unit}: not decibels, gain or efficiency.", unit=speech.unit.name)
    return say("In {unit}: not gain, efficiency or field strength.", unit=speech.unit.name)


def _size(speech: Speech) -> str:
    return say(
        "The trial: {elements}, {rounds}, {channels} on {signals}.",
        elements=_elements(speech),
        rounds=speech.rounds(speech.verdict["rounds_done"]),
        channels=numerals.number_of(len(speech.document["channels"]), "channel", "channels"),
        signals=numerals.number_of(len(doc.all_signals(speech.document)), "signal", "signals"),
    )


def _elements(speech: Speech) -> str:
    controls = len(doc.controls(speech.document))
    compared = speech.compared(len(doc.competing(speech.document)))
    if not controls:
        return compared
    beside = numerals.number_of(controls, "control", "controls")
    return listed([compared, beside])


def _more_rounds(speech: Speech) -> Iterator[str]:
    more, safe = speech.verdict["more_rounds"], speech.verdict["more_rounds_safe"]
    if speech.verdict["outcome"] == doc.MORE and more:
        yield say(
            "Still to run: about {rounds}{perhaps}.",
            rounds=speech.rounds(more),
            perhaps=perhaps_more(more, safe),
        )


def _intervals(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    if any(entry["score_interval"] for entry in doc.competing(speech.document)):
        return say("Lines: where each truly lies, seen from the highest ({level}).", level=level)
    return say("No interval can be given yet: the distances may be chance.")


def _cautions(speech: Speech) -> Iterator[str]:
    found = [entry for entry in speech.document["cautions"] if entry["severity"] in ("stop", "warning")]
    ordered = sorted(found, key=lambda entry: entry["severity"] != "stop")
    titles = list(dict.fromkeys(cautions.phrase(entry["code"]) for entry in ordered))
    if titles:
        left = len(titles) - MOST_CAUTIONS
        more = [say_number("{number} more", "{number} more", left, number=left)] if left > 0 else []
        yield say("Keep in mind: {cautions}.", cautions="; ".join([*titles[:MOST_CAUTIONS], *more]))
