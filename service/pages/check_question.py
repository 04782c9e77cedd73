"""The question of a design check as a form asks it: of a table, or of kept trials."""

from dataclasses import dataclass
from typing import Any, Final

from reports.language import marked, say
from service.errors import ServiceError
from service.pages.fields import Choice, Input, Values, choice, chosen, number_in, number_input
from service.pages.joined import joined
from service.pages.kept_list import A_PAGE
from service.pages.sent import Sent
from service.pages.titles import titled
from service.pages.told_faults import told
from service.pages.trial_fields import FIRST, PLAN, UNIT, choices, inputs
from service.pages.troubles import Trouble
from service.trial.check_question import Names, names_of_kept

OF_TABLE: Final = (
    Input("baseline", marked("The old design"), marked("Its name in the table.")),
    Input("candidates", marked("The new design"), marked("Its name; several with a comma between them.")),
)
OF_KEPT: Final = (
    Input("old_element", marked("The old design"), marked("Its name in that trial.")),
    Input(
        "new_element",
        marked("The new design"),
        marked("Its name; the same name again is allowed: has it aged?"),
    ),
    Input("between", marked("An element that both trials hold"), marked("Needed where the trials differ.")),
    number_input(
        "kept_margin",
        marked("Smallest difference you would act on"),
        marked("Empty: that of the trials."),
    ),
)


@dataclass(frozen=True)
class CheckQuestion:
    """The forms of a check: on a table, and on kept trials where there are any."""

    troubles: tuple[Trouble, ...]
    table: str
    of_table: tuple[Input, ...]
    unit: tuple[Choice, ...]
    meter: tuple[Input, ...]
    kept: tuple["KeptQuestion", ...]


@dataclass(frozen=True)
class KeptQuestion:
    """The form of a check on kept trials."""

    trials: tuple[Choice, ...]
    inputs: tuple[Input, ...]


def kept_names(values: Values) -> Names:
    """The elements of kept trials that the form names. Raises BadInput with every fault."""
    content: dict[str, Any] = {
        "baseline": {"trial": values.get("old_trial", ""), "element": values.get("old_element", "").strip()},
        "candidates": [
            {"trial": values.get("new_trial", ""), "element": name}
            for name in listed(values.get("new_element", ""))
        ],
    }
    if values.get("between", "").strip():
        content["reference"] = values["between"].strip()
    if values.get("kept_margin", "").strip():
        content["margin"] = number_in(values["kept_margin"])
    return names_of_kept(content)


def listed(text: str) -> list[str]:
    """Names with commas between them."""
    return [name.strip() for name in text.split(",") if name.strip()]


def check_question(
    values: Values, *, sent: Sent | None = None, error: ServiceError | None = None
) -> CheckQuestion:
    """The forms with what was filled in."""
    return CheckQuestion(
        troubles=() if error is None else (told(error, sent),),
        table=(sent.text() or "") if sent else "",
        of_table=inputs(OF_TABLE, values, {}),
        unit=choices((UNIT,), values, {}),
        meter=inputs((FIRST[0], PLAN[0]), values, {}),
        kept=_kept_question(values),
    )


def _kept_question(values: Values) -> tuple[KeptQuestion, ...]:
    if not joined().kept().in_use():
        return ()
    trials = joined().kept().trials.page(joined().owner(), None, limit=A_PAGE)
    titles = [titled(one["title"]) for one in trials]
    entries = [(one["id"], f"{title} ({one['id'][:6]})") for one, title in zip(trials, titles, strict=True)]
    if not entries:
        return ()
    lists = (
        choice("old_trial", say("The old design was tried in"), entries),
        choice("new_trial", say("The new one in"), entries),
    )
    shown_lists = tuple(chosen(one, values, {}) for one in lists)
    return (KeptQuestion(shown_lists, inputs(OF_KEPT, values, {})),)
