"""The cautions of a design check: those of its trials as in their own reports, and its own."""

import math
from collections.abc import Mapping, Sequence
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.language import marked, say
from reports.wording import cautions
from reports.wording.speech import Speech, listed, sentences

REFERENCE_CHANGED, BASELINE_OLD, UNPLANNED = "reference-changed", "baseline-old", "unplanned-looks"
TITLES: Final[Mapping[str, str]] = {
    REFERENCE_CHANGED: marked("The reference may have changed"),
    BASELINE_OLD: marked("The baseline is old"),
}
_PHRASES: Final[Mapping[str, str]] = {
    REFERENCE_CHANGED: marked("the reference may have changed"),
    BASELINE_OLD: marked("the baseline is old"),
}


def title(code: str) -> str:
    """The heading of a caution of a check; KeyError for a code without one."""
    return say(TITLES[code]) if code in TITLES else cautions.title(code)


def phrase(code: str) -> str:
    """The heading within a sentence; KeyError for a code without one."""
    return say(_PHRASES[code]) if code in _PHRASES else cautions.phrase(code)


def completed_caution(document: doc.Document, entry: doc.Entry, speeches: Sequence[Speech]) -> dict[str, Any]:
    """A copy of a caution of a check with its message; `speeches` are those of the trials, in order."""
    if entry["message"]:
        return dict(entry)
    speech = speeches[entry["trial"] or 0]
    code, evidence = entry["code"], entry["evidence"]
    if code == REFERENCE_CHANGED:
        message = _reference_changed(speech, evidence)
    elif code == BASELINE_OLD:
        message = _baseline_old(speech, evidence)
    elif code == UNPLANNED and evidence["promise"] is None:
        message = _asked_off_plan(evidence)
    else:
        message = cautions.message(speech, code, evidence)
    return {**entry, "message": sentences(message, _stops(document, entry))}


def _stops(document: doc.Document, entry: doc.Entry) -> str:
    """Which candidates it stops, where there are several to choose from."""
    if not entry["candidates"] or len(document["checks"]) == 1:
        return ""
    labels = {check["candidate"]: check["candidate_label"] for check in document["checks"]}
    return say("It stops: {candidates}.", candidates=listed([labels[name] for name in entry["candidates"]]))


def _reference_changed(speech: Speech, evidence: doc.Entry) -> str:
    moved = [
        say("{element} by {amount}", element=speech.name(one["element"]), amount=speech.measured(_moved(one)))
        for one in evidence["elements"]
    ]
    return say(
        "Both trials hold {reference} and others that are not judged here, and between the trials they moved "
        "apart: {moved} against {reference}, more than chance does once in a hundred times. So {reference} "
        "may not be what it was, and nothing that is compared through it can be trusted. Look at both, and "
        "run baseline and candidate in one trial.",
        reference=speech.name(evidence["reference"]),
        moved=listed(moved),
    )


def _moved(one: doc.Entry) -> str:
    return numerals.estimate(abs(one["moved"]), numerals.half_width(one["low"], one["high"]))


def _baseline_old(speech: Speech, evidence: doc.Entry) -> str:
    """A day that has begun counts, so that the days are always more than the bound."""
    return say(
        "Between the last reading of the baseline ({last}) and the first of {candidate} ({first}) lie {days} "
        "days, more than {bound} (common practice). Whatever {reference} did not share in that time looks "
        "like a difference of design. Run the baseline again beside the candidate.",
        last=day(evidence["baseline_last_at"]),
        candidate=speech.name(evidence["candidate"]),
        first=day(evidence["candidate_first_at"]),
        days=numerals.count(math.ceil(evidence["days"])),
        bound=numerals.count(evidence["bound_days"]),
        reference=speech.name(evidence["reference"]),
    )


def _asked_off_plan(evidence: doc.Entry) -> str:
    return say(
        "The error rate belongs to one look, at the planned end of {planned} rounds; this one is at {done}. "
        "Asked again and again as rounds come in it is wrong more often than promised.",
        planned=numerals.count(evidence["planned_rounds"]),
        done=numerals.count(evidence["rounds_done"]),
    )
