"""The question for a plan as a form asks it: of a new trial, of a kept one, of readings just judged."""

from dataclasses import dataclass
from typing import Any, Final

from reports.language import marked, say
from service.errors import BadInput, ServiceError
from service.intake.strict_json import strict_json
from service.jobs.verdicts import Batch
from service.pages.fields import OPENED, Hidden, Input, Values, number_in, number_input
from service.pages.joined import joined
from service.pages.sent import Sent
from service.pages.titles import titled
from service.pages.told_faults import told
from service.pages.trial_fields import FIRST, by_field, carried_fields, inputs, trial_of
from service.pages.trial_form import NamedLists, TrialForm, named_lists, new_trial_of, trial_form
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
class PlanForm:
    """The form of a plan; `about` says what trial it goes on with, `hidden` carries that along.

    `trial` and `lists` are those of a trial that has not begun, none where it goes on with one.
    """

    troubles: tuple[Trouble, ...]
    opened: tuple[str, ...]
    about: tuple[str, ...]
    hidden: tuple[Hidden, ...]
    trial: tuple[TrialForm, ...]
    lists: tuple[NamedLists, ...]
    time: tuple[Input, ...]
    wishes: tuple[Input, ...]


def question_of(values: Values, sent: Sent | None) -> tuple[dict[str, Any], Batch | None]:
    """What is asked, and the readings that are continued where they came as a table."""
    asked: dict[str, Any] = {name: number_in(values[name]) for name in ASKED if values.get(name, "").strip()}
    if values.get("continues"):
        return asked | {"continues": values["continues"]}, None
    if sent is None:
        return asked | {"trial": new_trial_of(values)}, None
    if sent.has_trial:
        content: Any = strict_json(sent.body)
        return asked | {"trial": content["trial"], "continues": content.get("readings")}, None
    return asked | {"trial": trial_of(values)}, Batch(sent.body, sent.media_type)


def plan_form(values: Values, *, sent: Sent | None = None, error: ServiceError | None = None) -> PlanForm:
    """The form with what was filled in."""
    faults = by_field(error.faults, ASKED) if isinstance(error, BadInput) else {}
    kept = values.get("continues", "")
    is_new = not kept and sent is None
    return PlanForm(
        troubles=() if error is None else (told(error, sent),),
        opened=OPENED if faults else (),
        about=_about(kept, sent),
        hidden=carried_question(values, sent),
        trial=(trial_form(values, faults, first=tuple(reversed(FIRST))),) if is_new else (),
        lists=(named_lists(values),) if is_new else (),
        time=inputs(TIME, values, faults),
        wishes=inputs(WISHES, values, faults),
    )


def _about(kept: str, sent: Sent | None) -> tuple[str, ...]:
    if kept:
        seen = joined().kept().trials.get(joined().owner(), kept)
        title = titled(seen.document.get("title"))
        return (say("This goes on with the kept trial “{title}”.", title=title),)
    return (say("This goes on with the readings of {file}.", file=sent.name),) if sent else ()


def carried_question(values: Values, sent: Sent | None) -> tuple[Hidden, ...]:
    """What the plan goes on with, to be carried along: the kept trial, or the readings with their trial."""
    if values.get("continues"):
        return (Hidden("continues", values["continues"]),)
    return (*sent.carried(), *carried_fields(values)) if sent else ()
