"""POST /v1/plans: what to run, in which order, and what it can detect."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import FORM, file_and_document, form_of, whole_body
from service.api.desk import kept_desks, locale
from service.api.negotiation import PLAN_FORMS, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, Answers, Noun
from service.api.query import ParameterFault
from service.api.report_answers import report_answer
from service.api.schemas.plan_questions import PlanQuerySchema, PlanQuestionSchema
from service.api.schemas.plans import TrialPlanSchema
from service.api.schemas.query import MARK_FIELDS
from service.api.strict_json import json_answer
from service.api.unread_media import not_read
from service.errors import BadInput, Fault
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json
from service.jobs.plans import Wish
from service.jobs.verdicts import Batch

PART = "plan"
NAMES: Mapping[str, str] = {"csv": "readings", "xlsx": "readings", "pdf": "run-sheet"}
BODY = {
    "required": True,
    "description": "A trial and the time there is; as a form where a file of readings is continued.",
    "content": {
        JSON: {"schema": PlanQuestionSchema},
        FORM: form_of(PART, PlanQuestionSchema, required=["readings", PART]),
    },
}

plans = Noun("plans", __name__, description="What to run, in which order, and what it can detect.")


@plans.operation(
    "/v1/plans",
    method="POST",
    may="read",
    query=PlanQuerySchema,
    forms=described(PLAN_FORMS, TrialPlanSchema),
    answers=Answers(headers=NAMED),
    problems=(400, 403, 404, 406, 413, 415, 429, 500, 501, 503),
    requestBody=BODY,
)
def plan_trial(query: Mapping[str, Any]) -> Response:
    """Plan a trial: a randomised order, the rounds there is time for, and what they can detect.

    With `continues` only the rounds that are missing. As csv and xlsx a table to fill in and send to
    /v1/verdicts as it is; as html and pdf the run sheet. Nothing is kept.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, PLAN_FORMS)
    question, file = _question(query)
    desk = kept_desks().plans
    with faults_of_marks():
        if form == "json":
            return json_answer(desk.document(owner(), question, file))
        wish = Wish(form, query["paper"], locale(query["locale"]))
    sheet = desk.sheet(owner(), question, file, wish=wish)
    return report_answer(sheet, form, PLAN_FORMS, named=NAMES.get(form, "plan"))


plans.after_request(vary_by_accept)


@contextmanager
def faults_of_marks() -> Iterator[None]:
    """A fault of the marks is placed at its parameter."""
    try:
        yield
    except BadInput as error:
        raise BadInput([_placed(fault) for fault in error.faults], count=error.count) from error


def _placed(fault: Fault) -> Fault:
    name = (fault.pointer or "").removeprefix("#/")
    return ParameterFault(fault.detail, parameter=name, given=fault.given) if name in MARK_FIELDS else fault


def _question(query: Mapping[str, Any]) -> tuple[Mapping[str, Any], Batch | None]:
    """What is asked, and the file of readings that comes with it."""
    marks = {name: query[name] for name in MARK_FIELDS if name in query}
    if request.mimetype == FORM:
        document, sent = file_and_document(request, PART)
        file: Batch | None = replace(sent, **marks)
    elif marks:
        detail = "Marks are those of a file of readings, and none is sent. Leave the parameter out."
        raise BadInput([ParameterFault(detail, parameter=name) for name in marks])
    elif request.mimetype == JSON:
        document, file = strict_json(whole_body(request)), None
    else:
        raise not_read(request.mimetype, (JSON, FORM))
    if not isinstance(document, dict):
        detail = "Give an object with trial, minutes_per_run and minutes_available."
        raise BadInput([Fault(detail, pointer="#")])
    return document, file
