"""Kept trials: the list of them, a new one, and one made of readings that were just judged."""

from contextlib import ExitStack
from dataclasses import dataclass
from json import dumps
from typing import TYPE_CHECKING, Any, Final

from flask import Response, request

from reports.language import say
from service.errors import BadInput, ServiceError
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json
from service.pages.answering import see, shown
from service.pages.declaring import Pages
from service.pages.fields import OPENED, Values
from service.pages.joined import joined
from service.pages.moments import moment
from service.pages.sent import Sent, sent_readings
from service.pages.start import NO_VALUES, batch_of, form_answer, readings_form
from service.pages.titles import titled
from service.pages.told_faults import told
from service.pages.trial_fields import FIRST, WHO, by_field, marks_of
from service.pages.trial_form import NamedLists, TrialForm, named_lists, new_trial_of, trial_form
from service.pages.troubles import Trouble

if TYPE_CHECKING:
    from service.jobs.kept_batches import NewBatch

kept_list = Pages("kept-list")
A_PAGE: Final = 25


@dataclass(frozen=True)
class TrialLine:
    """A line of the list."""

    address: str
    title: str
    batches: str
    changed: str


@dataclass(frozen=True)
class TrialList:
    """The trials that are kept, newest first; `older` leads to those before, `none` says that none are."""

    trials: tuple[TrialLine, ...]
    older: tuple[str, ...]
    none: tuple[str, ...]


@dataclass(frozen=True)
class NewTrial:
    """The form for a new trial."""

    troubles: tuple[Trouble, ...]
    opened: tuple[str, ...]
    trial: tuple[TrialForm, ...]
    lists: tuple[NamedLists, ...]


@kept_list.page("/kept")
def list_kept() -> Response:
    """The trials that are kept."""
    after = request.args.get("after", "").partition(" ")
    behind = (after[0], after[2]) if after[2] else None
    found = joined().kept().trials.page(joined().owner(), behind, limit=A_PAGE + 1)
    lines = tuple(_line(entry) for entry in found[:A_PAGE])
    last = found[A_PAGE - 1] if len(found) > A_PAGE else None
    older = () if last is None else (f"{last['created_at']} {last['id']}",)
    none = () if lines else (say("No trial is kept yet."),)
    return shown("trial_list.html", TrialList(lines, older, none), title=say("Kept trials"), section="/kept")


@kept_list.page("/kept/new")
def new_trial() -> Response:
    """The form for a new trial."""
    return _new_answer(_new_form(NO_VALUES))


@kept_list.page("/kept", method="POST")
def keep_new() -> Response:
    """Keep a new trial."""
    values = request.form.to_dict()
    try:
        seen = joined().kept().trials.create(joined().owner(), new_trial_of(values))
    except ServiceError as error:
        return _new_answer(_new_form(values, error), status=error.status)
    return see(f"/kept/{seen.document['id']}")


@kept_list.page("/kept/from-readings", method="POST")
def keep_readings() -> Response:
    """Keep the readings of the first page's form as a new trial."""
    values, sent = request.form.to_dict(), None
    try:
        sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
        trial_id = _kept(sent, values)
    except ServiceError as error:
        table = "" if sent is None else sent.text() or ""
        form = readings_form(values, table=table, sent=sent, error=error)
        return form_answer(form, status=error.status)
    return see(f"/kept/{trial_id}")


def _kept(sent: Sent, values: Values) -> str:
    """The id of a new trial with the readings; neither is kept where the readings are refused."""
    from service.jobs.kept_readings import Place

    owner, desks = joined().owner(), joined().kept()
    document, batch = _trial_and_batch(sent, values)
    seen = desks.trials.create(owner, document)
    trial_id = str(seen.document["id"])
    with ExitStack() as undo:
        undo.callback(desks.trials.remove, owner, trial_id, None)
        desks.readings.add(Place(owner, trial_id), batch)
        undo.pop_all()
    desks.analyses.ask(owner, trial_id)
    return trial_id


def _trial_and_batch(sent: Sent, values: Values) -> "tuple[Any, NewBatch]":
    """The trial document and the readings alone; a JSON file may hold both."""
    from service.jobs.kept_batches import NewBatch

    if sent.has_trial:
        content: Any = strict_json(sent.body)
        rest = {name: value for name, value in content.items() if name != "trial"}
        return content["trial"], NewBatch(dumps(rest).encode(), JSON)
    batch, marks = batch_of(sent, values), marks_of(values)
    return batch.trial, NewBatch(
        sent.body, sent.media_type, nothing_found=marks["nothing_found"], not_scanned=marks["not_scanned"]
    )


def _line(entry: dict[str, Any]) -> TrialLine:
    return TrialLine(
        address=f"/kept/{entry['id']}",
        title=titled(entry["title"]),
        batches=str(entry["batches"]),
        changed=moment(entry["changed_at"]),
    )


def _new_form(values: Values, error: ServiceError | None = None) -> NewTrial:
    faults = by_field(error.faults) if isinstance(error, BadInput) else {}
    return NewTrial(
        troubles=() if error is None else (told(error),),
        opened=OPENED if faults else (),
        trial=(trial_form(values, faults, first=(*reversed(FIRST), *WHO)),),
        lists=(named_lists(values),),
    )


def _new_answer(form: NewTrial, *, status: int = 200) -> Response:
    return shown("new_trial.html", form, title=say("Keep a new trial"), status=status, section="/kept")
