"""Every sentence about a design's history: does it creep?

As for a verdict, the analysis gives codes and numbers and this turns them into words. The cautions of the
trials are worded as in their own reports.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from reports import document as doc
from reports.dates import day
from reports.language import marked, say
from reports.wording.findings import HERE_ONLY, stopped, with_struck
from reports.wording.history_cautions import completed_caution
from reports.wording.history_speech import HistorySpeech
from reports.wording.speech import sentences, speech_of

CREEPS, NO_CREEP, MORE_TRIALS = "creeps", "no creep beyond the margin", "needs more trials"
OUTCOMES: Final[Mapping[str, str]] = {
    CREEPS: marked("creeps"),
    NO_CREEP: marked("no creep beyond the margin"),
    MORE_TRIALS: marked("needs more trials"),
}
"""How a reader is told an outcome; `say`d where it is shown."""
SHARED_NOT_SEEN: Final = marked(
    "A shift that the reference shares is not seen: what weather, site, cable and meter do to both cancels, "
    "and if {reference} ages too, {element} looks steadier, or worse, than it is."
)
STRAIGHT: Final = marked(
    "A straight line is drawn through the trials. What came at one blow, or comes and goes with the season, "
    "shows as a line too; whether it went on between the trials was not seen."
)
ONCE: Final = marked(
    "The error rate belongs to one look. Asked again after each further trial it is wrong more often than "
    "promised."
)
ONE_ITEM: Final = marked("One {thing} was followed. It speaks for this one, not for every one that is made.")


def complete(document: doc.Document, analyses: Sequence[doc.Document]) -> dict[str, Any]:
    """A copy of a design-history document with every sentence filled in.

    `analyses` are the analysis documents of its trials, in their order. KeyError for an outcome, a caution or
    a reason that has no words.
    """
    speeches = [speech_of(analysis) for analysis in analyses]
    said = HistorySpeech(document, speeches[-1])
    return {
        **document,
        "statement": statement(said),
        "first_to_last": {**document["first_to_last"], "statement": then_and_now(said)},
        "cautions": [completed_caution(entry, speeches) for entry in document["cautions"]],
        "not_seen": _not_seen(said),
    }


def statement(said: HistorySpeech) -> str:
    """What the history says, in plain words."""
    outcome = said.document["outcome"]
    return sentences(_BY_OUTCOME[outcome](said), with_struck(outcome, said.document["with_struck"], OUTCOMES))


def then_and_now(said: HistorySpeech) -> str:
    """The same element in the first trial and in the last."""
    found = said.document["first_to_last"]
    low, high = found["low"], found["high"]
    if low is None or high is None:
        return say(
            "{read}. How sure that is takes three rounds of each, and rounds that differ.", read=_read(said)
        )
    return say(
        "{read}, both against {reference}; the true change lies {change} ({level} sure, by the noise of the "
        "rounds of these two trials alone: a shift from one day to another would come on top).",
        read=_read(said),
        reference=said.reference,
        change=said.between(low, high),
        level=said.level,
    )


def _read(said: HistorySpeech) -> str:
    """What the last trial read, against the first."""
    found = said.document["first_to_last"]
    value = found["difference"]
    words = {
        "thing": said.speech.things.one,
        "element": said.element,
        "amount": said.amount(value, found["low"], found["high"]),
        "first": day(found["first"]),
        "last": day(found["last"]),
    }
    if not value:
        return say(
            "The same {thing} then and now: in the trial of {last} {element} read the same as in that of "
            "{first}",
            **words,
        )
    if value > 0:
        return say(
            "The same {thing} then and now: in the trial of {last} {element} read {amount} higher than in "
            "that of {first}",
            **words,
        )
    return say(
        "The same {thing} then and now: in the trial of {last} {element} read {amount} lower than in that of "
        "{first}",
        **words,
    )


def _creeps(said: HistorySpeech) -> str:
    words = {
        "element": said.element,
        "reference": said.reference,
        "over_dates": said.dates,
        "ends": said.line_ends,
        "true_change": said.true_change,
    }
    if said.trend["change"] > 0:
        return say(
            "{element} creeps up against {reference}: {over_dates}, the line through the trials {ends}; "
            "{true_change}.",
            **words,
        )
    return say(
        "{element} creeps down against {reference}: {over_dates}, the line through the trials {ends}; "
        "{true_change}.",
        **words,
    )


def _no_creep(said: HistorySpeech) -> str:
    small = said.trend["low"] > 0 or said.trend["high"] < 0
    first = say(
        "{element} does not creep against {reference} by more than the margin of {margin}: {over_dates}, "
        "{true_change}.",
        element=said.element,
        reference=said.reference,
        margin=said.margin,
        over_dates=said.dates,
        true_change=said.true_change,
    )
    return sentences(first, say("That is a real change, too small to act on.") if small else "")


def _needs_more(said: HistorySpeech) -> str:
    first = say(
        "Whether {element} creeps against {reference} needs more trials to be said.",
        element=said.element,
        reference=said.reference,
    )
    why = [_REASONS[reason["code"]](said, reason["evidence"]) for reason in said.document["reasons"]]
    return sentences(first, *why)


_BY_OUTCOME: Final[Mapping[str, Callable[[HistorySpeech], str]]] = {
    CREEPS: _creeps,
    NO_CREEP: _no_creep,
    MORE_TRIALS: _needs_more,
}


def _too_wide(said: HistorySpeech, _evidence: doc.Entry) -> str:
    return say(
        "The line through the trials, {over_dates}, {ends}; {true_change}, which leaves open both no change "
        "at all and one beyond the margin of {margin}. Later trials tell most.",
        over_dates=said.dates,
        ends=said.line_ends,
        true_change=said.true_change,
        margin=said.margin,
    )


_REASONS: Final[Mapping[str, Callable[[HistorySpeech, doc.Entry], str]]] = {
    "stopped": lambda _said, evidence: stopped(evidence["cautions"]),
    "nothing-varies": lambda _said, _evidence: say(
        "Nothing varies in any trial, so no interval can be given."
    ),
    "interval-too-wide": _too_wide,
}


def _not_seen(said: HistorySpeech) -> list[str]:
    words = {"element": said.element, "reference": said.reference, "thing": said.speech.things.one}
    return [say(part, **words) for part in (SHARED_NOT_SEEN, STRAIGHT, ONCE, ONE_ITEM, HERE_ONLY)]
