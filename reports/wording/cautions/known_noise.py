"""The message of a verdict that rests on a noise known beforehand."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech, sentences

_TAKEN: Final = {
    "known": marked("The noise behind it was taken from elsewhere: {noise}, made a quarter larger."),
    "this trial": marked(
        "The noise behind it comes from how far readings moved when {repeated}, within a round: {noise}, "
        "made a quarter larger."
    ),
    "both": marked(
        "The noise behind it was taken from elsewhere and from this trial together: {noise}, made a quarter "
        "larger."
    ),
}


def known_repeatability(speech: Speech, evidence: doc.Entry) -> str:
    """A verdict from fewer than three rounds and a known repeatability."""
    return sentences(
        say("The verdict rests on {rounds} only.", rounds=speech.rounds(evidence["rounds"])),
        say(_TAKEN[evidence["source"]], noise=_noise(speech, evidence), repeated=speech.things.repeated),
        say(
            "Where the site was less quiet than that, the verdict is worth less. More rounds free it from "
            "that."
        ),
    )


def _noise(speech: Speech, evidence: doc.Entry) -> str:
    """The standard deviation, with who says so where it was taken from elsewhere."""
    placed = {
        "sd": speech.measured(numerals.two_digits(evidence["sd"])),
        "degrees": numerals.plain(evidence["degrees_of_freedom"]),
    }
    source = doc.clean(evidence["from"] or "")
    if not source or evidence["source"] == "this trial":
        return say("a standard deviation of {sd} with {degrees} degrees of freedom", **placed)
    return say(
        "a standard deviation of {sd} with {degrees} degrees of freedom ({source})", **placed, source=source
    )
