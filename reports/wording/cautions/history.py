"""Messages about what was changed after the readings of a kept trial had come."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.wording.speech import Speech, listed, sentences

MOST_CHANGES = 4
_FIELDS: Final = {
    "margin": "the margin",
    "confidence": "the confidence",
    "planned_rounds": "the planned rounds",
    "looks": "the looks",
    "reference": "the reference",
    "struck": "the runs taken out",
}


def plan_changed(speech: Speech, evidence: doc.Entry) -> str:
    """Each change with its date and reason, and what it does not move."""
    changes = [_change(speech, change) for change in evidence["changes"]]
    return sentences(
        f"Changed after readings had come: {listed(changes, most=MOST_CHANGES)}.",
        "Planned rounds, confidence and looks count as they were first, so the error rate holds.",
        _under_first_margin(speech, evidence["under_first_margin"]),
    )


def _change(speech: Speech, change: doc.Entry) -> str:
    reason = doc.clean(change["reason"]) or "no reason given"
    return f"on {day(change['at'])} {changed(speech, change)} ({reason})"


def changed(speech: Speech, change: doc.Entry) -> str:
    """What a change changed, each field from what to what."""
    names = dict.fromkeys([*change["before"], *change["after"]])
    return listed([_field(speech, name, change) for name in names])


def _field(speech: Speech, name: str, change: doc.Entry) -> str:
    called = _FIELDS.get(name, doc.clean(name))
    before, after = (_value(speech, change[side].get(name)) for side in ("before", "after"))
    return f"{called} from {before} to {after}" if before and after else called


def _value(speech: Speech, value: object) -> str:
    """A value in a few words; "" for one that takes more."""
    if value is None:
        return "none"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return numerals.plain(value)
    if isinstance(value, list):
        return numerals.count(len(value))
    if isinstance(value, str):
        return speech.name(value) if value in speech.labels else doc.clean(value)
    return ""


def _under_first_margin(speech: Speech, first: doc.Entry | None) -> str:
    if first is None:
        return ""
    winner = f" ({speech.name(first['winner'])})" if first["winner"] else ""
    return (
        f"Under the first margin of {speech.amount(first['margin'])} the outcome is “{first['outcome']}”"
        f"{winner}; a margin that is chosen with the readings at hand is worth less."
    )
