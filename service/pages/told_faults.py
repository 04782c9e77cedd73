"""The faults of a form in plain words: which field or line, what stands there, what to do."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from reports.language import marked, say, say_number
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
from service.pages.troubles import Place, Trouble, line_and_column, trouble_of

_FIELDS: Final[tuple[Input | Choice, ...]] = (
    *(UNIT, LOOK_CHOICE, COMPARES_CHOICE, REGION_CHOICE),
    *(*FIRST, *PLAN, *SCALE, *TABLE_MARKS, *WHO),
)
LABELS: Final[Mapping[str, str]] = {field.name: field.label for field in _FIELDS}
NAMED: Final[Mapping[str, str]] = {
    "elements": marked("Elements"),
    "channels": marked("Channels"),
    "struck": marked("Struck runs"),
    "baseline": marked("The old design"),
    "candidates": marked("The new design"),
    "minutes_per_run": marked("Minutes for one run"),
    "minutes_available": marked("Minutes you have in all"),
    "worthwhile_difference": marked("A difference worth finding"),
    "chance": marked("How surely to find it"),
    "continues": marked("The readings"),
}
NOTHING_LOST: Final = marked("Nothing is lost: what you gave stands below.")
NOTHING_USED: Final = marked("Nothing of it was used, and nothing is lost: mend it below and send it again.")
REMEDIES: Final = (
    (
        re.compile(r"send the batch with corrects=REASON"),
        marked("say under the table why these put it right"),
    ),
    (re.compile(r"name it: nothing_found=.+?(?=\. If it means)"), marked("write none in its place")),
    (re.compile(r": not_scanned=.+(?=\.$)"), marked(", write not scanned")),
    (re.compile(r"with withdraws=\d+&reason=TEXT"), marked("under “Mend”")),
)
_READING: Final = re.compile(r"#/readings/(\d+)(?:/(.+))?")


def told(error: ServiceError, sent: Sent | None = None) -> Trouble:
    """An error as a form tells it that is shown again; `sent` are the readings it was about."""
    if not isinstance(error, BadInput):
        trouble = trouble_of(joined().problem(error).get_json())
        return replace(trouble, detail=" ".join((trouble.detail, say(NOTHING_LOST))))
    places = _said_once([fault_place(fault, sent) for fault in error.faults])
    counted = say_number(
        "One thing has to be mended.",
        "{number} things have to be mended.",
        error.count,
        number=error.count,
    )
    listed = say("The first {number} are listed.", number=len(places)) if error.count > len(places) else ""
    told = " ".join(part for part in (counted, listed, say(NOTHING_USED)) if part)
    return Trouble(say("This cannot be read as it is"), told, places)


def _said_once(places: Sequence[Place]) -> tuple[Place, ...]:
    """The places; what the one before has to say as well is not said again."""
    above = ["", *(place.detail for place in places)]
    return tuple(
        replace(place, detail=say("As above.")) if place.detail == detail else place
        for place, detail in zip(places, above, strict=False)
    )


def fault_place(fault: Fault, sent: Sent | None = None) -> Place:
    """One fault: where it is in the reader's words, and the line or value that stands there."""
    fault = replace(fault, detail=_in_the_form(fault.detail))
    if fault.row is not None:
        where = line_and_column(fault.row, fault.column)
        line = sent.line(fault.row) if sent else ""
        return Place(where, line or _given(fault), fault.detail)
    name = field_of(fault)
    if name is not None and name in LABELS:
        return Place(say(LABELS[name]), _given(fault), fault.detail)
    found = _READING.fullmatch(fault.pointer or "")
    if found:
        reading = say("Reading {number} of the list", number=int(found[1]) + 1)
        return Place(f"{reading}, {found[2]}" if found[2] else reading, _given(fault), fault.detail)
    column = say("The readings") if fault.column == "readings" else line_and_column(None, fault.column)
    return Place(_path(fault.pointer or "") or column, _given(fault), fault.detail)


def _in_the_form(detail: str) -> str:
    """A remedy that a program is told, as the forms of a trial's page have it."""
    for wanted, words in REMEDIES:
        detail = wanted.sub(say(words).replace("\\", r"\\"), detail)
    return detail


def _path(pointer: str) -> str:
    """A place in a document in words: the list or field, its line, what of it."""
    first, *rest = pointer.removeprefix("#/").removeprefix("trial/").split("/")
    words = [say(NAMED[first]) if first in NAMED else first]
    words += [say("line {number}", number=int(step) + 1) if step.isdecimal() else step for step in rest]
    return ", ".join(word for word in words if word and word != "#")


def _given(fault: Fault) -> str:
    return "" if fault.given is None else str(fault.given)
