"""POST /v1/plans: what to run, in which order, and what it can detect."""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import FORM, JSON, TABLES, file_and_document, whole_body
from service.api.desk import kept_desks
from service.api.negotiation import PLAN_FORMS, wanted_form
from service.api.noun import Noun
from service.api.report_answers import page_policy
from service.api.schemas.plans import PlanQuerySchema, PlanQuestionSchema, TrialPlanSchema
from service.api.strict_json import json_answer
from service.api.verdicts import FILE, PDF, TEXT, vary_by_accept
from service.errors import BadInput, Fault, UnsupportedMedia
from service.intake.strict_json import strict_json
from service.jobs.plans import Wish
from service.jobs.verdicts import Batch

PART = "plan"
READ = f"{JSON}, {FORM}"
NAMES: Mapping[str, str] = {
    "csv": "readings.csv",
    "xlsx": "readings.xlsx",
    "pdf": "run-sheet.pdf",
    "text": "plan.txt",
}
BODY = {
    "required": True,
    "description": "A trial and the time there is; as a form where a file of readings is continued.",
    "content": {
        JSON: {"schema": PlanQuestionSchema},
        FORM: {
            "schema": {
                "type": "object",
                "properties": {"readings": FILE, PART: PlanQuestionSchema},
                "required": ["readings", PART],
            },
            "encoding": {"readings": {"contentType": ", ".join(TABLES)}, PART: {"contentType": JSON}},
        },
    },
}

plans = Noun("plans", __name__, description="What to run, in which order, and what it can detect.")


@plans.operation(
    "/v1/plans",
    method="POST",
    may="read",
    query=PlanQuerySchema,
    forms=[
        (JSON, TrialPlanSchema),
        ("text/csv", TEXT),
        (PLAN_FORMS["xlsx"], FILE),
        ("text/html", TEXT),
        ("application/pdf", PDF),
        ("text/plain", TEXT),
    ],
    problems=(400, 403, 404, 406, 413, 415, 429, 500, 501, 503),
    requestBody=BODY,
)
def plan_trial(query: Mapping[str, Any]) -> Response:
    """Plan a trial: a randomised order, the rounds there is time for, and what they can detect.

    With `continues` only the rounds that are missing. As csv and xlsx a table to fill in and send to
    /v1/verdicts as it is; as html and pdf the run sheet. Nothing is kept.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, PLAN_FORMS)
    question, file = _question()
    desk = kept_desks().plans
    if form == "json":
        return json_answer(desk.document(owner(), question, file))
    wish = Wish(form, query["paper"])
    return _sheet_answer(desk.sheet(owner(), question, file, wish=wish), form)


plans.after_request(vary_by_accept)


def _question() -> tuple[Mapping[str, Any], Batch | None]:
    """What is asked, and the file of readings that comes with it."""
    if request.mimetype == FORM:
        document, file = file_and_document(request, PART)
    elif request.mimetype == JSON:
        document, file = strict_json(whole_body(request)), None
    else:
        given = request.mimetype or "A body without a media type"
        raise UnsupportedMedia(f"{given} is not read here; send {READ}.", headers={"Accept-Post": READ})
    if not isinstance(document, dict):
        detail = "Give an object with trial, minutes_per_run and minutes_available."
        raise BadInput([Fault(detail, pointer="#")])
    return document, file


def _sheet_answer(content: bytes, form: str) -> Response:
    media_type = PLAN_FORMS[form]
    text = "; charset=utf-8" if media_type.startswith("text/") else ""
    answer = Response(content, content_type=f"{media_type}{text}")
    if form == "html":
        answer.headers["Content-Security-Policy"] = page_policy(content)
    else:
        way = "attachment" if form in {"csv", "xlsx"} else "inline"
        answer.headers["Content-Disposition"] = f'{way}; filename="{NAMES[form]}"'
    return answer
