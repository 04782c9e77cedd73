"""Check a design: is the new one as good as the old one? On a table, or on kept trials."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from flask import Response, request

from reports.language import marked, say
from service.errors import ServiceError
from service.jobs.design_checks import CheckForm
from service.jobs.verdicts import MadeReport
from service.pages.answering import shown
from service.pages.asked_form import json_file, refuse_unknown
from service.pages.check_question import OF_KEPT, CheckQuestion, check_question, kept_names, listed
from service.pages.declaring import Pages
from service.pages.fields import Button, Hidden, Values
from service.pages.joined import joined
from service.pages.sent import sent_readings
from service.pages.speaking import locale_of
from service.pages.start import NO_VALUES, batch_of
from service.pages.trial_fields import carried_fields
from service.trial.check_question import names_of_query

if TYPE_CHECKING:
    from reports.view.model import Section, Table

check_page = Pages("check")

FORM_TEXTS: Final[Mapping[str, str]] = {
    "pdf": marked("PDF to print"),
    "html": marked("One page to keep (HTML)"),
    "markdown": marked("Markdown"),
    "text": marked("Text"),
    "json": marked("Everything (JSON)"),
    "junit": marked("JUnit XML"),
}


@dataclass(frozen=True)
class CheckPage:
    """What a check found."""

    title: str
    outcome: str
    statement: str
    rule: str
    findings: tuple[str, ...]
    tables: "tuple[Table, ...]"
    sections: "tuple[Section, ...]"
    address: str
    hidden: tuple[Hidden, ...]
    forms: tuple[Button, ...]


@check_page.page("/check")
def ask_check() -> Response:
    """The forms."""
    return _question_answer(check_question(NO_VALUES))


@check_page.page("/check", method="POST", may="read")
def check_table() -> Response:
    """The check on a table."""
    values, sent = request.form.to_dict(), None
    try:
        sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
        names = names_of_query(values.get("baseline", "").strip(), listed(values.get("candidates", "")), ())
        batch = batch_of(sent, values)
        found = (
            joined().kept().checks.of_batch(batch, names, _wish(values), locale=locale_of(values.get("form")))
        )
    except ServiceError as error:
        return _question_answer(check_question(values, sent=sent, error=error), status=error.status)
    named = tuple(Hidden(name, values.get(name, "")) for name in ("baseline", "candidates"))
    carried = sent.carried()
    hidden = (*carried, *named, *carried_fields(values)) if carried else ()
    return _found_answer(found, values, address="/check", hidden=hidden)


@check_page.page("/check/kept", method="POST", may="read")
def check_kept() -> Response:
    """The check on kept trials."""
    values = request.form.to_dict()
    try:
        asked = joined().owner(), kept_names(values), _wish(values)
        found = joined().kept().checks.of_kept(*asked, locale=locale_of(values.get("form")))
    except ServiceError as error:
        return _question_answer(check_question(values, error=error), status=error.status)
    names = ("old_trial", "new_trial", *(field.name for field in OF_KEPT))
    hidden = tuple(Hidden(name, values[name]) for name in names if values.get(name))
    return _found_answer(found, values, address="/check/kept", hidden=hidden)


def _wish(values: Values) -> CheckForm | None:
    """The form that was asked for, None for a page and for JSON. Raises NotAcceptable."""
    form = values.get("form") or "page"
    if form in {"page", "json"}:
        return None
    refuse_unknown(form, joined().forms.check)
    return CheckForm(form, None, locale=joined().locale)


def _found_answer(found: Any, values: Values, *, address: str, hidden: tuple[Hidden, ...]) -> Response:
    from reports.checks.view import check_view

    forms = joined().forms.check
    if isinstance(found, MadeReport):
        return joined().report(found.content, values["form"], forms, named="design-check")
    if values.get("form") == "json":
        return json_file(found, forms, named="design-check")
    report = check_view(found)
    page = CheckPage(
        title=report.title,
        outcome=report.outcome,
        statement=report.statement,
        rule=report.rule,
        findings=report.findings,
        tables=report.tables,
        sections=report.sections,
        address=address,
        hidden=hidden,
        forms=tuple(Button(name, say(text)) for name, text in FORM_TEXTS.items() if name in forms and hidden),
    )
    return shown("check_found.html", page, title=f"{report.outcome}: {report.title}", section="/check")


def _question_answer(question: CheckQuestion, *, status: int = 200) -> Response:
    return shown(
        "check_form.html",
        question,
        title=say("Check a design"),
        status=status,
        scripts=("readings.js",),
        section="/check",
    )
