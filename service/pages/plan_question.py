"""The question for a plan as a form asks it: of a new trial, of a kept one, of readings just judged."""

from dataclasses import dataclass
from typing import Any, Final

from reports.language import marked, say
from service.errors import BadInput, ServiceError
from service.intake.strict_json import strict_json
from service.jobs.verdicts import Batch
from service.pages.fields import OPENED, Choice, Hidden, Input, Values, number_in, number_input
from service.pages.joined import joined
from service.pages.kept_list import UNNAMED
from service.pages.named_lists import channels_in, elements_in
from service.pages.sent import Sent
from service.pages.told_faults import told
from service.pages.trial_fields import (
    COMPARES_CHOICE,
    FIRST,
    LOOK_CHOICE,
    PLAN,
    REGION_CHOICE,
    SCALE,
    UNIT,
    Faults,
    by_field,
    carried_fields,
    choices,
    inputs,
    trial_of,
)
from service.pages.troubles import Trouble

TIME: Final = (
    number_input(
        "minutes_per_run", marked("Minutes for one run"), marked("Take down, put up, aim and scan.")
    ),
    number_input("minutes_available", marked("Minutes you have in all"), marked("Three hours are 180.")),
)
WISHES: Final = (
    number_input(
        "worthwhile_difference",
        marked("A difference worth finding"),
        marked("In the unit of the meter. Empty: the one above."),
    ),
    number_input("chance", marked("How surely to find it"), marked("From 0.5 to 0.99. Empty: 0.8.")),
)
ASKED: Final = tuple(field.name for field in (*TIME, *WISHES))


@dataclass(frozen=True)
class Lists:
    """The fields of a trial that has not begun."""

    opened: tuple[str, ...]
    elements: str
    channels: str
    unit: tuple[Choice, ...]
    first: tuple[Input, ...]
    plan: tuple[Input, ...]
    choices: tuple[Choice, ...]
    scale: tuple[Input, ...]


@dataclass(frozen=True)
class PlanForm:
    """The form of a plan; `about` says what trial it goes on with, `hidden` carries that along."""

    troubles: tuple[Trouble, ...]
    opened: tuple[str, ...]
    about: tuple[str, ...]
    hidden: tuple[Hidden, ...]
    lists: tuple[Lists, ...]
    time: tuple[Input, ...]
    wishes: tuple[Input, ...]


def question_of(values: Values, sent: Sent | None) -> tuple[dict[str, Any], Batch | None]:
    """What is asked, and the readings that are continued where they came as a table."""
    asked: dict[str, Any] = {name: number_in(values[name]) for name in ASKED if values.get(name, "").strip()}
    if values.get("continues"):
        return asked | {"continues": values["continues"]}, None
    if sent is None:
        return asked | {"trial": _new_trial(values)}, None
    if sent.has_trial:
        content: Any = strict_json(sent.body)
        return asked | {"trial": content["trial"], "continues": content.get("readings")}, None
    return asked | {"trial": trial_of(values)}, Batch(sent.body, sent.media_type)


def plan_form(values: Values, *, sent: Sent | None = None, error: ServiceError | None = None) -> PlanForm:
    """The form with what was filled in."""
    faults = by_field(error.faults, ASKED) if isinstance(error, BadInput) else {}
    kept = values.get("continues", "")
    return PlanForm(
        troubles=() if error is None else (told(error, sent),),
        opened=OPENED if faults else (),
        about=_about(kept, sent),
        hidden=carried_question(values, sent),
        lists=() if kept or sent else (_lists(values, faults),),
        time=inputs(TIME, values, faults),
        wishes=inputs(WISHES, values, faults),
    )


def _about(kept: str, sent: Sent | None) -> tuple[str, ...]:
    if kept:
        seen = joined().kept().trials.get(joined().owner(), kept)
        title = seen.document.get("title") or say(UNNAMED)
        return (say("This goes on with the kept trial “{title}”.", title=title),)
    return (say("This goes on with the readings of {file}.", file=sent.name),) if sent else ()


def carried_question(values: Values, sent: Sent | None) -> tuple[Hidden, ...]:
    """What the plan goes on with, to be carried along: the kept trial, or the readings with their trial."""
    if values.get("continues"):
        return (Hidden("continues", values["continues"]),)
    return (*sent.carried(), *carried_fields(values)) if sent else ()


def _new_trial(values: Values) -> dict[str, Any]:
    trial = trial_of(values)
    trial["elements"] = elements_in(values.get("elements", ""))
    channels = channels_in(values.get("channels", ""))
    return trial | ({"channels": channels} if channels else {})


def _lists(values: Values, faults: Faults) -> Lists:
    return Lists(
        opened=OPENED if faults else (),
        elements=values.get("elements", ""),
        channels=values.get("channels", ""),
        unit=choices((UNIT,), values, faults),
        first=inputs(tuple(reversed(FIRST)), values, faults),
        plan=inputs(PLAN, values, faults),
        choices=choices((LOOK_CHOICE, COMPARES_CHOICE, REGION_CHOICE), values, faults),
        scale=inputs(SCALE, values, faults),
    )
