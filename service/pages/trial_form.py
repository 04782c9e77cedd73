"""The part of a form that spells a trial out: its fields as they were sent, and the document they make."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from service.pages.fields import Choice, Input, Values
from service.pages.named_lists import channels_in, elements_in
from service.pages.trial_fields import (
    COMPARES_CHOICE,
    FIRST,
    LOOK_CHOICE,
    PLAN,
    REGION_CHOICE,
    SCALE,
    UNIT,
    Faults,
    choices,
    inputs,
    trial_of,
)


@dataclass(frozen=True)
class TrialForm:
    """The fields of a trial; `first` are those beside the unit, in the order of the form."""

    unit: tuple[Choice, ...]
    first: tuple[Input, ...]
    plan: tuple[Input, ...]
    choices: tuple[Choice, ...]
    scale: tuple[Input, ...]


@dataclass(frozen=True)
class NamedLists:
    """What is compared, and on which channels, one a line."""

    elements: str
    channels: str


def trial_form(values: Values, faults: Faults, *, first: Sequence[Input] = FIRST) -> TrialForm:
    """The fields with what was filled in and what is wrong with it."""
    return TrialForm(
        unit=choices((UNIT,), values, faults),
        first=inputs(first, values, faults),
        plan=inputs(PLAN, values, faults),
        choices=choices((LOOK_CHOICE, COMPARES_CHOICE, REGION_CHOICE), values, faults),
        scale=inputs(SCALE, values, faults),
    )


def named_lists(values: Values) -> NamedLists:
    """The lists as they were sent."""
    return NamedLists(values.get("elements", ""), values.get("channels", ""))


def new_trial_of(values: Values) -> dict[str, Any]:
    """The document of a trial that has not begun: its fields, and the lists that are not empty."""
    lists = {
        "elements": elements_in(values.get("elements", "")),
        "channels": channels_in(values.get("channels", "")),
    }
    return trial_of(values) | {name: entries for name, entries in lists.items() if entries}
