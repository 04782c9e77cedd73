"""The cautions of a design check: those of its trials as in their own reports, and its own."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.wording import cautions
from reports.wording.speech import Speech, listed, sentences

REFERENCE_CHANGED, BASELINE_OLD, UNPLANNED = "reference-changed", "baseline-old", "unplanned-looks"
TITLES: Final[Mapping[str, str]] = {
    REFERENCE_CHANGED: "The reference may have changed",
    BASELINE_OLD: "The baseline is old",
}


def title(code: str) -> str:
    """The heading of a caution of a check; KeyError for a code without one."""
    return TITLES.get(code) or cautions.title(code)


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
    return f"It stops: {listed([labels[name] for name in entry['candidates']])}."


def _reference_changed(speech: Speech, evidence: doc.Entry) -> str:
    moved = listed(
        [f"{speech.name(one['element'])} by {speech.measured(_moved(one))}" for one in evidence["elements"]]
    )
    reference = speech.name(evidence["reference"])
    return (
        f"Both trials hold {reference} and others that are not judged here, and between the trials they "
        f"moved apart: {moved} against {reference}, more than chance does once in a hundred times. So "
        f"{reference} may not be what it was, and nothing that is compared through it can be trusted. Look "
        "at both, and run baseline and candidate in one trial."
    )


def _moved(one: doc.Entry) -> str:
    return numerals.estimate(abs(one["moved"]), numerals.half_width(one["low"], one["high"]))


def _baseline_old(speech: Speech, evidence: doc.Entry) -> str:
    days, bound = (numerals.count(evidence[name]) for name in ("days", "bound_days"))
    return (
        f"Between the last reading of the baseline ({day(evidence['baseline_last_at'])}) and the first of "
        f"{speech.name(evidence['candidate'])} ({day(evidence['candidate_first_at'])}) lie {days} days, more "
        f"than {bound} (common practice). Whatever {speech.name(evidence['reference'])} did not share in "
        "that time looks like a difference of design. Run the baseline again beside the candidate."
    )


def _asked_off_plan(evidence: doc.Entry) -> str:
    done, planned = (numerals.count(evidence[name]) for name in ("rounds_done", "planned_rounds"))
    return (
        f"The error rate belongs to one look, at the planned end of {planned} rounds; this one is at {done}. "
        "Asked again and again as rounds come in it is wrong more often than promised."
    )
