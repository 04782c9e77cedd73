"""Every sentence about a design's history: does it creep?

As for a verdict, the analysis gives codes and numbers and this turns them into words. The cautions of the
trials are worded as in their own reports.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.wording import cautions
from reports.wording.check_cautions import REFERENCE_CHANGED, title
from reports.wording.design_check import HERE_ONLY
from reports.wording.speech import Speech, listed, sentences, speech_of
from reports.wording.vocabulary import UNITS

CREEPS, NO_CREEP, MORE_TRIALS = "creeps", "no creep beyond the margin", "needs more trials"
SHARED_NOT_SEEN: Final = (
    "A shift that the reference shares is not seen: what weather, site, cable and meter do to both cancels, "
    "and if {reference} ages too, {element} looks steadier, or worse, than it is."
)
STRAIGHT: Final = (
    "A straight line is drawn through the trials. What came at one blow, or comes and goes with the season, "
    "shows as a line too; whether it went on between the trials was not seen."
)
ONCE: Final = (
    "The error rate belongs to one look. Asked again after each further trial it is wrong more often than "
    "promised."
)
ONE_ITEM: Final = "One {thing} was followed. It speaks for this one, not for every one that is made."


@dataclass(frozen=True)
class _Said:
    """A history with the words of its last trial, whose names it uses."""

    document: doc.Document
    speech: Speech

    @property
    def trend(self) -> doc.Entry:
        return self.document["trend"]  # type: ignore[no-any-return]

    @property
    def element(self) -> str:
        return self.speech.name(self.document["element"])

    @property
    def reference(self) -> str:
        return self.speech.name(self.document["reference"])

    @property
    def margin(self) -> str:
        return self.speech.amount(self.document["margin"])

    @property
    def sure(self) -> str:
        return f"{numerals.per_cent(self.document['confidence'])} sure"

    def change(self, value: float, low: float | None, high: float | None) -> str:
        """A change in words: "0.41 bars lower"."""
        number = numerals.estimate(abs(value), numerals.half_width(low, high))
        return _way(self.speech.measured(number), value)

    def between(self, low: float, high: float) -> str:
        """Both ends of a change: "between 0.31 bars lower and 0.12 bars higher"."""
        if low > 0 or high < 0:
            ends = (low, high) if low > 0 else (-high, -low)
            return _way(self.speech.between(*ends), low)
        return f"between {self.change(low, low, high)} and {self.change(high, low, high)}"


def complete(document: doc.Document, analyses: Sequence[doc.Document]) -> dict[str, Any]:
    """A copy of a design-history document with every sentence filled in.

    `analyses` are the analysis documents of its trials, in their order. KeyError for a caution or a reason
    that has no words.
    """
    speeches = [speech_of(analysis) for analysis in analyses]
    said = _Said(document, speeches[-1])
    return {
        **document,
        "statement": statement(said),
        "first_to_last": {**document["first_to_last"], "statement": then_and_now(said)},
        "cautions": [_completed(entry, speeches) for entry in document["cautions"]],
        "not_seen": _not_seen(said),
    }


def statement(said: _Said) -> str:
    """What the history says, in plain words."""
    write = {CREEPS: _creeps, NO_CREEP: _no_creep}.get(said.document["outcome"], _needs_more)
    return sentences(write(said), _with_struck(said))


def then_and_now(said: _Said) -> str:
    """The same element in the first trial and in the last."""
    found = said.document["first_to_last"]
    value, low, high = found["difference"], found["low"], found["high"]
    same = f"The same {said.speech.things.one} then and now: in the trial of {day(found['last'])}"
    read = f"{said.element} read {_than(said.change(value, low, high))} in that of {day(found['first'])}"
    if low is None or high is None:
        return f"{same} {read}. How sure that is takes three rounds of each, and rounds that differ."
    return (
        f"{same} {read}, both against {said.reference}; the true change lies {said.between(low, high)} "
        f"({said.sure}, by the noise of the rounds of these two trials alone: a shift from one day to "
        "another would come on top)."
    )


def per_year(document: doc.Document) -> str:
    """What the same pace makes in a year, the unit in which long changes are told."""
    pace = document["trend"]["per_year"]
    width = numerals.half_width(pace["low"], pace["high"])
    amount = f"{numerals.signed(pace['change'], width)} {UNITS[document['unit']].many} a year"
    ends = numerals.between(pace["low"], pace["high"])
    told = f"{amount} ({ends})" if ends else amount
    beyond = document["trend"]["span_days"] < 365
    return f"{told}, further than these dates reach" if beyond else told


def span(days: float) -> str:
    """How long the dates reach: "over 402 days"."""
    if days < 1:
        return f"over {numerals.duration(24 * days)}"
    text = numerals.fixed(days, 0)
    return f"over {text} {'day' if text == '1' else 'days'}"


def _way(amount: str, value: float) -> str:
    return f"{amount} {'higher' if value > 0 else 'lower'}" if value else "the same"


def _than(change: str) -> str:
    return "the same as" if change == "the same" else f"{change} than"


def _dates(said: _Said) -> str:
    points = said.document["points"]
    return (
        f"{span(said.trend['span_days'])}, from {day(points[0]['date'])} to {day(points[-1]['date'])}, "
        f"in {numerals.count(len(points))} trials"
    )


def _moved(said: _Said) -> str:
    found = said.trend
    return _than(said.change(found["change"], found["low"], found["high"]))


def _true_change(said: _Said) -> str:
    found = said.trend
    return f"the true change lies {said.between(found['low'], found['high'])} ({said.sure})"


def _creeps(said: _Said) -> str:
    way = "up" if said.trend["change"] > 0 else "down"
    return (
        f"{said.element} creeps {way} against {said.reference}: {_dates(said)}, the line through the trials "
        f"ends {_moved(said)} it begins; {_true_change(said)}."
    )


def _no_creep(said: _Said) -> str:
    found = said.trend
    small = found["low"] > 0 or found["high"] < 0
    return sentences(
        f"{said.element} does not creep against {said.reference} by more than the margin of {said.margin}: "
        f"{_dates(said)}, {_true_change(said)}.",
        "That is a real change, too small to act on." if small else "",
    )


def _needs_more(said: _Said) -> str:
    first = f"Whether {said.element} creeps against {said.reference} needs more trials to be said."
    why = [_REASONS[reason["code"]](said, reason["evidence"]) for reason in said.document["reasons"]]
    return sentences(first, *why)


def _stopped(_said: _Said, evidence: doc.Entry) -> str:
    codes = listed([title(code).lower() for code in evidence["cautions"]])
    return f"It is stopped by a caution ({codes}), which comes first."


def _too_wide(said: _Said, _evidence: doc.Entry) -> str:
    return (
        f"The line through the trials, {_dates(said)}, ends {_moved(said)} it begins; {_true_change(said)}, "
        f"which leaves open both no change at all and one beyond the margin of {said.margin}. Later trials "
        "tell most."
    )


_REASONS: Final[Mapping[str, Callable[[_Said, doc.Entry], str]]] = {
    "stopped": _stopped,
    "nothing-varies": lambda _said, _evidence: "Nothing varies in any trial, so no interval can be given.",
    "interval-too-wide": _too_wide,
}


def _with_struck(said: _Said) -> str:
    other = said.document["with_struck"]
    if other is None:
        return ""
    if other == said.document["outcome"]:
        return "With the runs that were taken out put back it says the same."
    return f"With the runs that were taken out put back it would say: {other}."


def _completed(entry: doc.Entry, speeches: Sequence[Speech]) -> dict[str, Any]:
    if entry["code"] == REFERENCE_CHANGED:
        return {**entry, "message": _reference_creeps(speeches[-1], entry["evidence"])}
    speech = speeches[entry["trial"]]
    return {**entry, "message": cautions.message(speech, entry["code"], entry["evidence"])}


def _reference_creeps(speech: Speech, evidence: doc.Entry) -> str:
    moved = listed(
        [
            f"{speech.name(one['element'])} by {speech.amount(abs(one['moved']))}"
            for one in evidence["elements"]
        ]
    )
    reference = speech.name(evidence["reference"])
    return (
        f"All these trials hold {reference} and others beside the one that is followed, and over the dates "
        f"they moved apart: {moved} against {reference}, more than chance does once in a hundred such "
        f"histories. So it may be {reference} that creeps, and nothing that is told through it can be "
        "trusted. Look at both, or name as the reference one that has been kept indoors."
    )


def _not_seen(said: _Said) -> list[str]:
    names = {"element": said.element, "reference": said.reference, "thing": said.speech.things.one}
    return [SHARED_NOT_SEEN.format(**names), STRAIGHT, ONCE, ONE_ITEM.format(**names), HERE_ONLY]
