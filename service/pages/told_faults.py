"""The faults of a form in plain words: which field or line, what stands there, what to do."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from service.errors import BadInput, Fault, ServiceError
from service.pages.fields import Choice, Input
from service.pages.joined import joined
from service.pages.sent import Sent
from service.pages.trial_fields import (
    COMPARES_CHOICE,
    FIRST,
    LOOK_CHOICE,
    PLAN,
    REGION_CHOICE,
    SCALE,
    TABLE_MARKS,
    UNIT,
    WHO,
    field_of,
)
from service.pages.troubles import Place, Trouble, trouble_of

_FIELDS: Final[tuple[Input | Choice, ...]] = (
    *(UNIT, LOOK_CHOICE, COMPARES_CHOICE, REGION_CHOICE),
    *(*FIRST, *PLAN, *SCALE, *TABLE_MARKS, *WHO),
)
LABELS: Final[Mapping[str, str]] = {field.name: field.label for field in _FIELDS}
NAMED: Final[Mapping[str, str]] = {
    "elements": "Elements",
    "channels": "Channels",
    "struck": "Struck runs",
    "baseline": "The old design",
    "candidates": "The new design",
    "minutes_per_run": "Minutes for one run",
    "minutes_available": "Minutes you have in all",
    "worthwhile_difference": "A difference worth finding",
    "chance": "How surely to find it",
    "continues": "The readings",
}
NOTHING_LOST: Final = "Nothing is lost: what you gave stands below."
NOTHING_USED: Final = "Nothing of it was used, and nothing is lost: mend it below and send it again."
REMEDIES: Final = (
    (re.compile(r"send the batch with corrects=REASON"), "say under the table why these put it right"),
    (re.compile(r"with withdraws=\d+&reason=TEXT"), "under “Mend”"),
)
_READING: Final = re.compile(r"#/readings/(\d+)(?:/(.+))?")


def told(error: ServiceError, sent: Sent | None = None) -> Trouble:
    """An error as a form tells it that is shown again; `sent` are the readings it was about."""
    if not isinstance(error, BadInput):
        trouble = trouble_of(joined().problem(error).get_json())
        return replace(trouble, detail=f"{trouble.detail} {NOTHING_LOST}")
    places = tuple(fault_place(fault, sent) for fault in error.faults)
    counted = (
        "One thing has to be mended." if error.count == 1 else f"{error.count} things have to be mended."
    )
    more = error.count - len(places)
    rest = f" The first {len(places)} are listed." if more > 0 else ""
    return Trouble("This cannot be read as it is", f"{counted}{rest} {NOTHING_USED}", places)


def fault_place(fault: Fault, sent: Sent | None = None) -> Place:
    """One fault: where it is in the reader's words, and the line or value that stands there."""
    fault = replace(fault, detail=_in_the_form(fault.detail))
    if fault.row is not None:
        where = f"Line {fault.row}" + (f", column {fault.column}" if fault.column else "")
        line = sent.line(fault.row) if sent else ""
        return Place(where, line or _given(fault), fault.detail)
    name = field_of(fault)
    if name is not None and name in LABELS:
        return Place(LABELS[name], _given(fault), fault.detail)
    found = _READING.fullmatch(fault.pointer or "")
    if found:
        part = f", {found[2]}" if found[2] else ""
        return Place(f"Reading {int(found[1]) + 1} of the list{part}", _given(fault), fault.detail)
    column = "The readings" if fault.column == "readings" else f"Column {fault.column}"
    where = _path(fault.pointer or "") or (column if fault.column else "The whole of it")
    return Place(where, _given(fault), fault.detail)


def _in_the_form(detail: str) -> str:
    """A remedy that a program is told, as the forms of a trial's page have it."""
    for wanted, words in REMEDIES:
        detail = wanted.sub(words, detail)
    return detail


def _path(pointer: str) -> str:
    """A place in a document in words: the list or field, its line, what of it."""
    first, *rest = pointer.removeprefix("#/").removeprefix("trial/").split("/")
    words = [NAMED.get(first, first)]
    words += [f"line {int(step) + 1}" if step.isdecimal() else step for step in rest]
    return ", ".join(word for word in words if word and word != "#")


def _given(fault: Fault) -> str:
    return "" if fault.given is None else str(fault.given)
