"""Every sentence about a design check: may this new design ship?

As for a verdict, the analysis gives codes and numbers and this turns them into words. The cautions of the
trials are worded as in their own reports.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.wording.check_cautions import completed_caution, title
from reports.wording.speech import Speech, listed, sentences, speech_of

HOLDS, SHORT = "holds", "falls short"
SHIFT_NOT_SEEN: Final = (
    "What changed between the two days is seen only as far as the reference shares it. A shift of one "
    "{thing} from day to day that the reference does not share is not seen: it looks like a difference of "
    "design."
)
ONE_ITEM: Final = (
    "One {thing} of each design was tried. It speaks for the ones that were {done}, not for every one that "
    "will be made: to hear that, try several of a batch as samples of one design."
)
THEN_AND_NOW: Final = (
    "The same {thing} is held against itself, then and now, so what is seen is what became of it between the "
    "two trials: weathering, or handling, as far as the reference was spared."
)
HERE_ONLY: Final = "It holds for this site, this antenna and these days."


@dataclass(frozen=True)
class _Said:
    """One check with the words of its two trials."""

    check: doc.Entry
    now: Speech
    then: Speech

    @property
    def candidate(self) -> str:
        return f"{self.now.names(self.check['samples'])}{' now' if is_then_and_now(self.check) else ''}"

    @property
    def baseline(self) -> str:
        return f"{self.then.name(self.check['baseline'])}{' then' if is_then_and_now(self.check) else ''}"

    @property
    def margin(self) -> str:
        return self.now.amount(self.check["margin"])

    def apart(self, value: float) -> str:
        """A difference in words: "0.41 bars lower"."""
        limits = self.check["limits"]
        width = numerals.half_width(limits["low"], limits["high"])
        text = self.now.measured(numerals.estimate(abs(value), width))
        return f"{text} {'higher' if value > 0 else 'lower'}" if value else "the same"


def is_then_and_now(check: doc.Entry) -> bool:
    """Whether candidate and baseline are the same element, in two trials."""
    return bool(check["candidate"] == check["baseline"])


def labels_of(check: doc.Entry) -> tuple[str, str]:
    """What candidate and baseline are called; where they are the same element, which is of now and then."""
    labels = doc.clean(check["candidate_label"]), doc.clean(check["baseline_label"])
    return (f"{labels[0]} now", f"{labels[1]} then") if is_then_and_now(check) else labels


def complete(document: doc.Document, analyses: Sequence[doc.Document]) -> dict[str, Any]:
    """A copy of a design-check document with every sentence filled in.

    `analyses` are the analysis documents of its trials, in their order. KeyError for a caution or a reason
    that has no words.
    """
    speeches = [speech_of(analysis) for analysis in analyses]
    checks = [
        _completed(_Said(check, speeches[check["candidate_trial"]], speeches[check["baseline_trial"]]))
        for check in document["checks"]
    ]
    return {
        **document,
        "checks": checks,
        "statement": _overall(checks),
        "cautions": [completed_caution(document, entry, speeches) for entry in document["cautions"]],
        "not_seen": _not_seen(document, speeches[0]),
    }


def _completed(said: _Said) -> dict[str, Any]:
    return {**said.check, "statement": statement(said), "reception_statement": reception(said)}


def statement(said: _Said) -> str:
    """What the check says, in plain words."""
    write = {HOLDS: _holds, SHORT: _falls_short}.get(said.check["outcome"], _needs_more)
    return sentences(write(said), _with_struck(said))


def reception(said: _Said) -> str:
    """The second criterion, apart from the first."""
    found = said.check["reception"]
    if not found["scanned_with_both"]:
        return "Reception: no signal was scanned with both, so it cannot be compared."
    steady = numerals.number_of(found["compared"], "signal", "signals")
    if not found["lost"]:
        of = f"of the {steady} that {said.baseline} received in every run"
        return f"Reception: {of} {said.candidate} lost none."
    lost = listed(found["lost"])
    return (
        f"Reception falls short: {said.candidate} did not receive {lost} in every run, and {said.baseline} "
        "did. It is a count of what was received, with no chance of error promised."
    )


_OF_SEVERAL: Final[Mapping[str, str]] = {HOLDS: "hold", SHORT: "fall short", doc.MORE: "need more runs"}


def _overall(checks: Sequence[doc.Entry]) -> str:
    if len(checks) == 1:
        return str(checks[0]["statement"])
    outcomes = [check["outcome"] for check in checks]
    counts = {one: outcomes.count(one) for one in outcomes}
    parts = [f"{number} {one if number == 1 else _OF_SEVERAL[one]}" for one, number in counts.items()]
    return f"Of {numerals.count(len(checks))} candidates: {', '.join(parts)}."


def _holds(said: _Said) -> str:
    low = said.check["limits"]["low"]
    than = f"not worse than {said.baseline} by the margin of {said.margin} or more"
    first = f"{said.candidate} holds: it is {than}."
    if low is None or low <= -said.check["margin"]:
        return sentences(first, _average(said), _stands(said))
    worst = f"The true difference is {said.apart(low)} at worst ({_level(said)} sure)."
    return sentences(first, _average(said), worst)


def _stands(said: _Said) -> str:
    """Why it holds although the limit that is shown lies beyond the margin."""
    return (
        f"The decision was reached at round {numerals.count(said.check['decided_at_round'])} and stands; the "
        "limits shown are those of now, and stricter, since they serve all candidates at once."
    )


def _falls_short(said: _Said) -> str:
    high = said.check["limits"]["high"]
    first = f"{said.candidate} falls short of {said.baseline} by more than the margin of {said.margin}."
    if high is None or high >= -said.check["margin"]:
        return sentences(first, _average(said), _stands(said))
    best = f"The true difference is {said.apart(high)} at best ({_level(said)} sure)."
    return sentences(first, _average(said), best)


def _needs_more(said: _Said) -> str:
    first = f"{said.candidate} needs more runs before it can be held against {said.baseline}."
    why = [_REASONS[reason["code"]](said, reason["evidence"]) for reason in said.check["reasons"]]
    return sentences(first, *why, _average(said), _more_rounds(said))


def _average(said: _Said) -> str:
    difference = said.check["difference"]
    if difference is None:
        return ""
    rounds = said.now.rounds(said.check["rounds"])
    return f"Over {rounds} it read {said.apart(difference)} on average."


def _level(said: _Said) -> str:
    return numerals.per_cent(said.check["limits"]["level"])


def _more_rounds(said: _Said) -> str:
    half, safe = said.check["more_rounds"], said.check["more_rounds_safe"]
    if half is None:
        return _none_would_do(said)
    perhaps = f", perhaps {numerals.count(safe)}" if safe is not None and safe > half else ""
    return f"About {numerals.count(half)} more {'round is' if half == 1 else 'rounds are'} needed{perhaps}."


def _none_would_do(said: _Said) -> str:
    """Where the limits are there and no number of rounds was found that settles it."""
    codes = [reason["code"] for reason in said.check["reasons"]]
    if codes != ["limits-hold-the-margin"] or len(said.check["samples"]) > 1:
        return ""
    if said.check["candidate_trial"] == said.check["baseline_trial"]:
        return "More rounds will hardly settle it: the true difference seems too near the margin."
    stay = f"since those of {said.baseline} stay as they are: run both in one trial"
    return f"More rounds of {said.candidate} will hardly settle it, {stay}."


def _with_struck(said: _Said) -> str:
    other = said.check["with_struck"]
    if other is None:
        return ""
    again = "it says the same" if other == said.check["outcome"] else f"it would say: {other}"
    return f"With the runs that were taken out put back {again}."


def _stopped(_said: _Said, evidence: doc.Entry) -> str:
    codes = listed([title(code).lower() for code in evidence["cautions"]])
    return f"It is stopped by a caution ({codes}), which comes first."


def _no_limits_yet(said: _Said, evidence: doc.Entry) -> str:
    fewest = evidence["fewest_rounds"]
    if fewest is not None and min(evidence["rounds"], evidence["baseline_rounds"]) < fewest:
        return f"Each trial needs at least {said.now.rounds(fewest)} with the reference and what is judged."
    if len(said.check["samples"]) > 1:
        return "Several samples are judged from three samples and three rounds that hold them all."
    return "There are too few rounds yet, or none varies, so that no limit can be given."


def _no_round_with_reference(said: _Said, evidence: doc.Entry) -> str:
    reference = said.now.name(evidence["reference"])
    apart = [
        (said.now if one["trial"] == said.check["candidate_trial"] else said.then).name(one["element"])
        for one in evidence["apart"]
    ]
    least = said.now.rounds(evidence["fewest_rounds"])
    return (
        f"There are no limits yet, because no round holds {reference} together with "
        f"{listed(apart, joined='or with')}. Each trial needs at least {least} that hold both."
    )


_REASONS: Final[Mapping[str, Callable[[_Said, doc.Entry], str]]] = {
    "stopped": _stopped,
    "no-level": lambda _said, _evidence: "No signal gives a level that can be compared.",
    "no-shared-signal": lambda _said, _evidence: (
        "No signal gives a level in both trials, so nothing can be compared: scan the same channels in both."
    ),
    "no-round-with-reference": _no_round_with_reference,
    "no-shared-round": lambda _said, _evidence: "No round holds a run of each.",
    "no-limits-yet": _no_limits_yet,
    "limits-hold-the-margin": lambda said, _evidence: (
        f"The rounds so far leave open whether it is worse by the margin of {said.margin}."
    ),
}


def _not_seen(document: doc.Document, speech: Speech) -> list[str]:
    words = {"thing": speech.things.one, "done": speech.things.done}
    several = all(len(check["samples"]) > 1 for check in document["checks"])
    parts = [] if document["reference"] is None else [SHIFT_NOT_SEEN.format(**words)]
    if any(is_then_and_now(check) for check in document["checks"]):
        parts.append(THEN_AND_NOW.format(**words))
    return [*parts, *([] if several else [ONE_ITEM.format(**words)]), HERE_ONLY]
