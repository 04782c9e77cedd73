"""Plan a trial: how many rounds, in which order, what they can tell; and its sheet to print."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, Final

from flask import Response, request

from reports.language import marked, say
from service.errors import ServiceError
from service.jobs.plans import Wish
from service.pages.answering import shown
from service.pages.asked_form import json_file, refuse_unknown
from service.pages.declaring import Pages
from service.pages.fields import Button, Hidden, Values
from service.pages.joined import joined
from service.pages.plan_question import ASKED, PlanForm, carried_question, plan_form, question_of
from service.pages.sent import Sent, sent_readings
from service.pages.speaking import locale_of
from service.pages.trial_fields import carried_fields

if TYPE_CHECKING:
    from service.pages.plan_parts import PlanParts

plan_page = Pages("plan")

FORM_TEXTS: Final[Mapping[str, str]] = {
    "pdf": marked("Run sheet to print (PDF)"),
    "html": marked("Run sheet (HTML)"),
    "xlsx": marked("Workbook to type into (XLSX)"),
    "csv": marked("Table to fill in (CSV)"),
    "text": marked("Order as text"),
    "json": marked("The whole plan (JSON)"),
}


@dataclass(frozen=True)
class PlanPage:
    """A plan, and the forms it can be taken along in."""

    plan: "PlanParts"
    hidden: tuple[Hidden, ...]
    forms: tuple[Button, ...]
    keep: tuple[str, ...]


@plan_page.page("/plan")
def ask_plan() -> Response:
    """The form; with ?continues= of a kept trial."""
    trial_id = request.args.get("continues", "").rpartition("/")[2]
    return _form_answer(plan_form({"continues": trial_id} if trial_id else {}))


@plan_page.page("/plan/continued", method="POST", may="read")
def ask_continued() -> Response:
    """The form, for readings that were just judged."""
    values = request.form.to_dict()
    try:
        sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
    except ServiceError as error:
        return _form_answer(plan_form(values, error=error), status=error.status)
    return _form_answer(plan_form(values, sent=sent))


@plan_page.page("/plan", method="POST", may="read")
def make_plan() -> Response:
    """The plan, as a page or in the form that was asked for."""
    values, sent = request.form.to_dict(), None
    form = values.get("form") or "page"
    try:
        if values.get("carried"):
            sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
        question, file = question_of(values, sent)
        desk, owner = joined().kept().plans, joined().owner()
        if form not in {"page", "json"}:
            return _sheet(form, partial(desk.sheet, owner, question, file))
        document = desk.document(owner, question, file, locale=locale_of(form))
    except ServiceError as error:
        return _form_answer(plan_form(values, sent=sent, error=error), status=error.status)
    if form == "json":
        return json_file(document, joined().forms.plan, named="plan")
    return _plan_answer(_parts(document), values, sent)


def _sheet(form: str, sheet: Any) -> Response:
    forms = joined().forms.plan
    refuse_unknown(form, forms)
    named = {"csv": "readings", "xlsx": "readings", "pdf": "run-sheet"}.get(form, "plan")
    return joined().report(sheet(wish=Wish(form, None, joined().locale)), form, forms, named=named)


def _parts(document: Mapping[str, Any]) -> "PlanParts":
    from service.pages.plan_parts import plan_parts

    return plan_parts(document)


def _plan_answer(parts: "PlanParts", values: Values, sent: Sent | None) -> Response:
    known = [name for name in FORM_TEXTS if name in joined().forms.plan]
    new = not values.get("continues") and sent is None
    lists = [Hidden(name, values[name]) for name in ("elements", "channels") if values.get(name)]
    carried = (*carried_fields(values), *lists) if new else carried_question(values, sent)
    asked = tuple(Hidden(name, values[name]) for name in ASKED if values.get(name, "").strip())
    page = PlanPage(
        plan=parts,
        hidden=(*carried, *asked),
        forms=tuple(Button(name, say(FORM_TEXTS[name])) for name in known),
        keep=(say("Keep this as a trial"),) if new else (),
    )
    return shown("plan.html", page, title=say("Plan: {title}", title=parts.title), section="/plan")


def _form_answer(form: PlanForm, *, status: int = 200) -> Response:
    return shown("plan_form.html", form, title=say("Plan a trial"), status=status, section="/plan")
