"""POST /v1/verdicts: one batch in, one verdict out, nothing kept."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from flask import Response, request

from service.api.bodies import FORM, batch_of, form_of, trial_is_in_query
from service.api.desk import desk, locale
from service.api.negotiation import TEXT, VERDICT_FORMS, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, Answers, Noun
from service.api.query import ParameterFault
from service.api.report_answers import report_answer
from service.api.schemas.analysis import AnalysisSchema
from service.api.schemas.query import MARK_FIELDS, METER_FIELDS, TRIAL_FIELDS, VerdictQuerySchema
from service.api.schemas.readings import VerdictRequestSchema
from service.api.schemas.trial import TrialSchema
from service.api.strict_json import json_answer
from service.errors import BadInput, Fault
from service.intake.media_types import JSON, TABLES

BODY: Mapping[str, Any] = {
    "required": True,
    "description": "A trial with its readings; or a table, its trial in the query or in a form's part.",
    "content": {
        JSON: {"schema": VerdictRequestSchema},
        **{table: {"schema": TEXT} for table in TABLES},
        FORM: form_of("trial", TrialSchema, required=["readings"]),
    },
}

verdicts = Noun("verdicts", __name__, description="One batch in, one verdict out; nothing is kept.")


@verdicts.operation(
    "/v1/verdicts",
    method="POST",
    may="read",
    query=VerdictQuerySchema,
    forms=described(VERDICT_FORMS, AnalysisSchema),
    answers=Answers(headers=NAMED),
    problems=(400, 403, 406, 413, 415, 429, 500, 501, 503),
    requestBody=BODY,
)
def judge_batch(query: Mapping[str, Any]) -> Response:
    """Judge one batch of readings.

    Answers the analysis document, or a report in the form that the query or the Accept header asks for.
    Nothing is kept.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, VERDICT_FORMS)
    batch = batch_of(request, query)
    with trial_faults_in_query(query):
        if form == "json":
            return json_answer(desk().document(batch))
        wish = {"paper": query["paper"], "shape": query["shape"], "locale": locale(query["locale"])}
        report = desk().report(batch, form=form, **wish)
        return report_answer(report, form, VERDICT_FORMS, named="verdict")


verdicts.after_request(vary_by_accept)


@contextmanager
def trial_faults_in_query(query: Mapping[str, Any]) -> Iterator[None]:
    """A fault of what the query spelt out, the trial or marks of the table, is placed at its parameter."""
    in_query = [f"#/{name}" for name in MARK_FIELDS]
    if trial_is_in_query(request):
        in_query += [f"#/trial/{name}" for name in TRIAL_FIELDS]
        in_query += [f"#/trial/meter/{name}" for name in METER_FIELDS]
    try:
        yield
    except BadInput as error:
        placed = [_placed(fault, query) if fault.pointer in in_query else fault for fault in error.faults]
        raise BadInput(placed, count=error.count) from error


def _placed(fault: Fault, query: Mapping[str, Any]) -> Fault:
    name = (fault.pointer or "").rpartition("/")[2]
    if name in MARK_FIELDS:
        return ParameterFault(fault.detail, parameter=name, given=fault.given)
    return ParameterFault(fault.detail, parameter=name, given=query.get(name, fault.given))
