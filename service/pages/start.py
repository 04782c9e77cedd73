"""The first page: what this does, and the form that takes readings; then the verdict on them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from flask import Response, request

from reports.language import marked, say
from service.errors import BadInput, Fault, ServiceError
from service.jobs.in_locale import in_locale
from service.jobs.verdicts import Batch
from service.pages.answering import see, shown
from service.pages.declaring import Pages
from service.pages.fields import OPENED, Button, Choice, Hidden, Input, Values, choice, chosen
from service.pages.joined import joined
from service.pages.sent import Sent, sent_readings
from service.pages.told_faults import told
from service.pages.trial_fields import (
    TABLE_MARKS,
    by_field,
    carried_fields,
    inputs,
    marks_of,
    trial_of,
)
from service.pages.trial_form import TrialForm, trial_form
from service.pages.troubles import Trouble
from service.pages.verdict_forms import in_form, offered_forms
from service.trial.trial import COMPARES, LOOKS

if TYPE_CHECKING:
    from reports.view.model import Fact, Report, Section
    from service.pages.verdict_parts import VerdictParts

start = Pages("start")

EXAMPLES: Final[Mapping[str, tuple[str, Values]]] = {
    "six-rounds": ("six-rounds.csv", {"unit": "bars", "highest": "10", "title": marked("An invented trial")}),
    "one-scan": (
        "one-scan.csv",
        {"unit": "bars", "highest": "10", "title": marked("One invented scan of each")},
    ),
}
TOO_MANY: Final = marked(
    "These readings are too many to be taken along by this page. For a report, go back, choose its form "
    "under “Answer as” and send them once more; or keep them as a trial from there."
)
NO_VALUES: Final[Values] = {"looks": LOOKS[0], "compares": COMPARES[0]}


@dataclass(frozen=True)
class ReadingsForm:
    """The form that takes readings, with what was sent and what is wrong with it."""

    troubles: tuple[Trouble, ...]
    opened: tuple[str, ...]
    table: str
    kept_files: tuple[str, ...]
    carried: tuple[Hidden, ...]
    trial: tuple[TrialForm, ...]
    marks: tuple[Input, ...]
    answer: tuple[Choice, ...]


@dataclass(frozen=True)
class Onward:
    """The readings carried along, and the forms of report that can be made of them."""

    carried: tuple[Hidden, ...]
    forms: tuple[Button, ...]


@dataclass(frozen=True)
class VerdictPage:
    """A verdict on readings that are not kept, and where to go from it."""

    report: "tuple[Report, ...]"
    read_as: "tuple[Fact, ...]"
    first: "tuple[Section, ...]"
    cautions: "tuple[Section, ...]"
    sections: "tuple[Section, ...]"
    onward: tuple[Onward, ...]
    notes: tuple[str, ...]


@start.page("/")
def first_page() -> Response:
    """The first page, empty or with an example."""
    name, values = EXAMPLES.get(request.args.get("example", ""), ("", NO_VALUES))
    table = example_text(name) if name else ""
    titled = {"title": say(values["title"])} if name else {}
    return form_answer(readings_form({**NO_VALUES, **values, **titled}, table=table))


@start.page("/verdict")
def ask_again() -> Response:
    """Whoever comes back here without readings is led to the form."""
    return see("/")


@start.page("/verdict", method="POST", may="read")
def judge() -> Response:
    """The verdict on the readings of the form, as a page or in the form that was asked for."""
    values = request.form.to_dict()
    sent = None
    try:
        sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
        form = values.get("form") or "page"
        if form != "page":
            desk, batch = joined().verdicts(), batch_of(sent, values)
            return in_form(form, partial(desk.document, batch), partial(desk.report, batch))
        document = joined().verdicts().document(batch_of(sent, values))
    except ServiceError as error:
        return form_answer(_refused(error, values, sent), status=error.status)
    parts = drawn_parts(document)
    page = VerdictPage(
        report=(parts.report,),
        read_as=parts.read_as,
        first=parts.first,
        cautions=parts.cautions,
        sections=parts.sections,
        onward=_onward(sent, values),
        notes=() if sent.carried() else (say(TOO_MANY),),
    )
    title = f"{parts.report.answer.outcome}: {parts.report.title}"
    return shown("verdict.html", page, title=title, scripts=("folding.js",), section="/")


def drawn_parts(document: Mapping[str, Any], *chosen: tuple[str, ...]) -> "VerdictParts":
    """The parts of a verdict, made where other work is done; `chosen` as `verdict_parts` takes it."""
    from service.pages.verdict_parts import verdict_parts

    work = partial(in_locale, joined().locale, partial(verdict_parts, document, *chosen))
    return joined().kept().runner.run(work, seconds=joined().limits.rendering_seconds)


def readings_form(
    values: Values, *, table: str = "", sent: Sent | None = None, error: ServiceError | None = None
) -> ReadingsForm:
    """The form with what was filled in."""
    faults = by_field(error.faults) if isinstance(error, BadInput) else {}
    carried = sent.carried() if sent is not None and not table else ()
    return ReadingsForm(
        troubles=() if error is None else (told(error, sent),),
        opened=OPENED if faults else (),
        table=table,
        kept_files=(sent.name,) if sent is not None and carried else (),
        carried=carried,
        trial=(trial_form(values, faults),),
        marks=inputs(TABLE_MARKS, values, faults),
        answer=(chosen(_answer_choice(), values, faults),),
    )


def batch_of(sent: Sent, values: Values) -> Batch:
    """The readings as a batch, with the trial that the form spells out unless the file holds one.

    Raises BadInput where the form does not say what the meter shows.
    """
    if sent.has_trial:
        return Batch(sent.body, sent.media_type)
    trial = trial_of(values)
    if "unit" not in trial["meter"]:
        text = say("Choose what your meter shows: the same number means different things.")
        raise BadInput([Fault(text, pointer="#/trial/meter/unit")])
    return Batch(sent.body, sent.media_type, trial, **marks_of(values))


def example_text(name: str) -> str:
    """An example of readings, invented and marked so."""
    return (Path(__file__).parent / "examples" / name).read_text(encoding="utf-8")


def _answer_choice() -> Choice:
    entries = [("page", say("a page, here")), *((form.value, form.text) for form in offered_forms())]
    return choice("form", say("Answer as"), entries)


def _refused(error: ServiceError, values: Values, sent: Sent | None) -> ReadingsForm:
    text = None if sent is None else sent.text()
    return readings_form(values, table=text or "", sent=sent, error=error)


def _onward(sent: Sent, values: Values) -> tuple[Onward, ...]:
    """What the page takes along, none where it is too much."""
    carried = sent.carried()
    return (Onward((*carried, *carried_fields(values)), offered_forms()),) if carried else ()


def form_answer(form: ReadingsForm, *, status: int = 200) -> Response:
    """The form as a page."""
    return shown(
        "start.html",
        form,
        title=say("Which element is better?"),
        status=status,
        scripts=("readings.js",),
        section="/",
    )
