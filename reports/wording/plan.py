"""The sentences of a plan: what it rests on, whether what matters will be seen, how runs are made."""

from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording import plan_cautions
from reports.wording.plan_statement import ahead, statement
from reports.wording.safety import SAFETY
from reports.wording.speech import Speech, sentences, speech_of

_FROM: Final = {
    "known repeatability": marked("known repeatability"),
    "readings so far": marked("readings so far"),
}
_LOOKS: Final = {"every round": marked("after every round"), "planned end": marked("at the planned end")}
_WHOSE: Final = {
    "margin": marked("your margin"),
    "worthwhile_difference": marked("what you find worthwhile"),
}


def complete_plan(document: doc.Document) -> dict[str, Any]:
    """A copy of a plan document with every sentence filled in; sentences already there are kept.

    KeyError for a caution, a unit or a kind of comparison that has no words.
    """
    speech = speech_of(document)
    return {
        **document,
        "cautions": [
            {
                **entry,
                "message": entry["message"]
                or plan_cautions.message(speech, entry["code"], entry["evidence"]),
            }
            for entry in document["cautions"]
        ],
        "safety": list(document["safety"]) or [say(sentence) for sentence in SAFETY],
        "statement": document["statement"] or statement(speech),
    }


def assumptions(speech: Speech) -> list[str]:
    """What the chances rest on."""
    given = say(
        "The chances are those of simulated trials, put to the very rule that gives the verdict, looks "
        "{looks} included. In them one {thing} is ahead of all the others, these are equal, all are equally "
        "noisy, and the noise is bell-shaped.",
        looks=say(_LOOKS[speech.trial["looks"]]),
        thing=speech.things.one,
    )
    return [given, _noise(speech)]


def _noise(speech: Speech) -> str:
    noise = speech.document["noise"]
    if noise["sd"] is None:
        return say(
            "How far two readings of the same one lie apart from run to run is not known here, so "
            "differences are counted in run-to-run standard deviations, and the margin plays no part."
        )
    return say(
        "The run-to-run standard deviation is taken to be {sd} ({source}).",
        sd=speech.measured(numerals.two_digits(noise["sd"])),
        source=say(_FROM[noise["from"]]),
    )


def worthwhile(speech: Speech) -> str:
    """Whether the difference that matters will be seen."""
    found = speech.document["worthwhile"]
    if found["sd_at_most"] is None:
        return ""
    placed = {
        "lead": speech.amount(found["difference"]),
        "whose": say(_WHOSE[found["from"]]),
        "share": numerals.in_a_hundred(speech.document["chance"]),
    }
    if found["by_round"] is not None:
        return say(
            "A lead of {lead} ({whose}) is named in {share} of 100 trials after {rounds}.",
            **placed,
            rounds=speech.rounds(found["by_round"]),
        )
    return say(
        "A lead of {lead} ({whose}) is named in {share} of 100 trials only if the run-to-run standard "
        "deviation is {sd} or less.",
        **placed,
        sd=speech.measured(numerals.two_digits(found["sd_at_most"])),
    )


def shorter(speech: Speech) -> list[str]:
    """What leaving out some would bring."""
    return [
        say(
            "Without {elements}: {rounds} in {minutes}, {promise}.",
            elements=speech.names(entry["drop"]),
            rounds=speech.rounds(entry["rounds"]),
            minutes=numerals.minutes(entry["minutes"]),
            promise=_detects(speech, entry["detectable_difference"]),
        )
        for entry in speech.document["shorter"]
    ]


def remount_study(speech: Speech) -> str:
    """Whether remounts of one and a scan of each would do; "" where that is no way."""
    study = speech.document["remount_study"]
    if study is None:
        return ""
    return sentences(
        say(
            _REMOUNTS_AND_SCANS if study["then"] else _REMOUNTS,
            again=speech.things.again.format(name=speech.name(study["element"])),
            number=numerals.count(study["remounts"]),
            minutes=numerals.minutes(study["minutes"]),
        ),
        say(
            "With the spread of these known beforehand it settles only large differences: {promise}.",
            promise=_detects(speech, study["detectable_difference"]),
        ),
        "" if study["fits"] else say("That is more time than there is."),
    )


_REMOUNTS: Final = marked("The short way: {again}, {number} times with a scan each time ({minutes}).")
_REMOUNTS_AND_SCANS: Final = marked(
    "The short way: {again}, {number} times with a scan each time, then scan each once ({minutes})."
)


def order_rule(speech: Speech) -> str:
    """How the order came about."""
    return say(
        "The order was drawn at random so that each comes equally often early and late in a round (seed "
        "{seed}). Keep to it; a run that fails is repeated at once, and a round is finished before the next "
        "begins.",
        seed=speech.document["seed"],
    )


def fresh(speech: Speech) -> str:
    """What makes a run a new trial of the same thing."""
    return say(
        "For every run {anew}, also where the same comes twice running: scans without that are no new "
        "evidence.",
        anew=speech.things.anew,
    )


def _detects(speech: Speech, difference: float | None) -> str:
    if difference is None:
        return say("too few for any verdict")
    return say("a winner {ahead} is named with the same chance", ahead=ahead(speech, difference))
