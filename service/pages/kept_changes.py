"""What changes a kept trial: readings sent to it, a run struck, a batch withdrawn; and its reports."""

from functools import partial
from typing import Final

from flask import Response, request

from reports.language import say
from service.errors import BadInput, Conflict, Fault, ServiceError
from service.pages.answering import see
from service.pages.declaring import Pages
from service.pages.fields import number_in
from service.pages.joined import joined
from service.pages.kept_trial import trial_answer
from service.pages.sent import sent_readings
from service.pages.sent_once import keyed
from service.pages.told_faults import told
from service.pages.trial_fields import marks_of
from service.pages.verdict_forms import in_form
from service.pages.verdict_so_far import ask_for, so_far

kept_changes = Pages("kept-changes")
ONE: Final = "/kept/<trial_id>"


@kept_changes.page(f"{ONE}/readings", method="POST")
def send_readings(trial_id: str) -> Response:
    """Keep a batch of readings, all of it or nothing, and look at the verdict."""
    from service.jobs.kept_batches import NewBatch
    from service.jobs.kept_readings import Place

    values, sent = request.form.to_dict(), None
    try:
        sent = sent_readings(request, most_bytes=joined().limits.body_bytes)
        batch = NewBatch(
            sent.body, sent.media_type, **marks_of(values), corrects=values.get("corrects") or None
        )
        place = Place(joined().owner(), trial_id, keyed(values.get("key", ""), batch))
        joined().kept().readings.add(place, batch)
    except ServiceError as error:
        text = "" if sent is None else sent.text() or ""
        return trial_answer(
            trial_id, trouble=told(error, sent), values=values | {"table": text}, status=error.status
        )
    ask_for(trial_id)
    return see(f"/kept/{trial_id}")


@kept_changes.page(f"{ONE}/verdict", method="POST")
def ask_verdict(trial_id: str) -> Response:
    """Ask for the verdict on the trial as it is."""
    ask_for(trial_id)
    return see(f"/kept/{trial_id}")


@kept_changes.page(f"{ONE}/strike", method="POST")
def strike_run(trial_id: str) -> Response:
    """Take a run out openly; every report prints the result with and without it."""
    values = request.form.to_dict()
    owner, trials = joined().owner(), joined().kept().trials
    try:
        reason = _reason(values.get("strike_reason", ""))
        strike = {
            "element": values.get("element", ""),
            "round": number_in(values.get("round", "")),
            "reason": reason,
        }
        there = trials.get(owner, trial_id)
        patch = {"struck": [*there.document.get("struck", []), strike], "reason": reason}
        trials.change(owner, trial_id, patch, version=_version(values, there.version))
    except ServiceError as error:
        return trial_answer(trial_id, trouble=told(error), values=values, status=error.status)
    ask_for(trial_id)
    return see(f"/kept/{trial_id}")


@kept_changes.page(f"{ONE}/withdraw", method="POST")
def withdraw_batch(trial_id: str) -> Response:
    """Take a batch back; it stays in the history."""
    from service.jobs.kept_readings import Place

    values = request.form.to_dict()
    try:
        reason = _reason(values.get("withdraw_reason", ""))
        number = number_in(values.get("batch", ""))
        place = Place(joined().owner(), trial_id)
        joined().kept().readings.withdraw(place, number if isinstance(number, int) else 0, reason)
    except ServiceError as error:
        return trial_answer(trial_id, trouble=told(error), values=values, status=error.status)
    return see(f"/kept/{trial_id}")


@kept_changes.page(f"{ONE}/report")
def report(trial_id: str) -> Response:
    """The report on the newest verdict, in the form that is asked for."""
    owner, desks = joined().owner(), joined().kept()
    form = request.args.get("form", "pdf")
    version = desks.trials.get(owner, trial_id).version
    found = so_far(trial_id, version)
    if found.document is None:
        raise Conflict(
            say("No verdict has been reached on the trial as it is. Ask for it on the trial's page.")
        )
    return in_form(form, lambda: found.document or {}, partial(desks.analyses.report, owner, found.id))


def _reason(text: str) -> str:
    """The reason. Raises BadInput where there is none."""
    if not text.strip():
        why = say("Say why: it is kept with the date and printed in every report.")
        raise BadInput([Fault(why, column="reason")])
    return text.strip()


def _version(values: dict[str, str], present: int) -> int:
    """The version of the trial that the form was made of."""
    number = number_in(values.get("version", ""))
    return number if isinstance(number, int) else present
