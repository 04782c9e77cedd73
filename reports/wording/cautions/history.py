"""Messages about what was changed after the readings of a kept trial had come."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.language import marked, say, say_as
from reports.wording.speech import Speech, listed, sentences
from reports.wording.vocabulary import LOOKS, OUTCOMES

MOST_CHANGES = 4
_FIELDS: Final = {
    "margin": marked("the margin"),
    "confidence": marked("the confidence"),
    "planned_rounds": marked("the planned rounds"),
    "looks": marked("the looks"),
    "reference": marked("the reference"),
    "struck": marked("the runs taken out"),
}


def plan_changed(speech: Speech, evidence: doc.Entry) -> str:
    """Each change with its date and reason, and what it does not move."""
    changes = [_change(speech, change) for change in evidence["changes"]]
    return sentences(
        say("Changed after readings had come: {changes}.", changes=listed(changes, most=MOST_CHANGES)),
        say("Planned rounds, confidence and looks count as they were first, so the error rate holds."),
        _under_first_margin(speech, evidence["under_first_margin"]),
    )


def _change(speech: Speech, change: doc.Entry) -> str:
    return say(
        "on {day} {change} ({reason})",
        day=day(change["at"]),
        change=changed(speech, change),
        reason=doc.clean(change["reason"]) or say("no reason given"),
    )


def changed(speech: Speech, change: doc.Entry) -> str:
    """What a change changed, each field from what to what."""
    names = dict.fromkeys([*change["before"], *change["after"]])
    return listed([_field(speech, name, change) for name in names])


def _field(speech: Speech, name: str, change: doc.Entry) -> str:
    called = say(_FIELDS[name]) if name in _FIELDS else doc.clean(name)
    before, after = (_value(speech, change[side].get(name)) for side in ("before", "after"))
    if not before or not after:
        return called
    return say("{field} from {before} to {after}", field=called, before=before, after=after)


def _value(speech: Speech, value: object) -> str:
    """A value in a few words; "" for one that takes more."""
    if value is None:
        return say_as("a value that was not set", "none")
    if isinstance(value, int | float) and not isinstance(value, bool):
        return numerals.plain(value)
    if isinstance(value, list):
        return numerals.count(len(value))
    if isinstance(value, str):
        return _text(speech, value)
    return ""


def _text(speech: Speech, value: str) -> str:
    if value in speech.labels:
        return speech.name(value)
    return say(LOOKS[value]) if value in LOOKS else doc.clean(value)


def _under_first_margin(speech: Speech, first: doc.Entry | None) -> str:
    if first is None:
        return ""
    placed = {"margin": speech.amount(first["margin"]), "outcome": say(OUTCOMES[first["outcome"]])}
    if not first["winner"]:
        return say(
            "Under the first margin of {margin} the outcome is “{outcome}”; a margin that is chosen with the "
            "readings at hand is worth less.",
            **placed,
        )
    return say(
        "Under the first margin of {margin} the outcome is “{outcome}” ({winner}); a margin that is chosen "
        "with the readings at hand is worth less.",
        **placed,
        winner=speech.name(first["winner"]),
    )
