"""The cautions of a history: those of its trials as in their own reports, and its own."""

from collections.abc import Sequence
from typing import Any

from reports import document as doc
from reports.language import say
from reports.wording import cautions
from reports.wording.check_cautions import REFERENCE_CHANGED
from reports.wording.speech import Speech, listed


def completed_caution(entry: doc.Entry, speeches: Sequence[Speech]) -> dict[str, Any]:
    """A copy of a caution of a history with its message; `speeches` are those of the trials, in order."""
    if entry["code"] == REFERENCE_CHANGED:
        return {**entry, "message": _reference_creeps(speeches[-1], entry["evidence"])}
    speech = speeches[entry["trial"]]
    return {**entry, "message": cautions.message(speech, entry["code"], entry["evidence"])}


def _reference_creeps(speech: Speech, evidence: doc.Entry) -> str:
    moved = [
        say(
            "{element} by {amount}",
            element=speech.name(one["element"]),
            amount=speech.amount(abs(one["moved"])),
        )
        for one in evidence["elements"]
    ]
    return say(
        "All these trials hold {reference} and others beside the one that is followed, and over the dates "
        "they moved apart: {moved} against {reference}, more than chance does once in a hundred such "
        "histories. So it may be {reference} that creeps, and nothing that is told through it can be "
        "trusted. Look at both, or name as the reference one that has been kept indoors.",
        reference=speech.name(evidence["reference"]),
        moved=listed(moved),
    )
