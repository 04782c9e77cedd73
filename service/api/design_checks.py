"""POST /v1/design-checks: is the candidate as good as the baseline?"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import FORM, batch_of, whole_body
from service.api.desk import kept_desks, locale
from service.api.negotiation import CHECK_FORMS, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, Answers, Noun
from service.api.query import ParameterFault
from service.api.report_answers import OUTCOME, report_answer
from service.api.schemas.design_checks import (
    DesignCheckQuerySchema,
    DesignCheckRequestSchema,
    DesignCheckSchema,
    KeptDesignCheckRequestSchema,
)
from service.api.strict_json import json_answer
from service.api.verdicts import BODY, trial_faults_in_query
from service.errors import BadInput, Fault
from service.intake.media_types import JSON, TABLES
from service.intake.strict_json import strict_json
from service.jobs.design_checks import CheckForm
from service.jobs.verdicts import MadeReport
from service.trial.check_question import Names, is_kept, names_of_kept, names_of_query

MOST_KEPT_BYTES = 65_536
"""No longer is a body that names elements of kept trials; a longer one holds readings."""
IN_QUERY = ("baseline", "candidate", "samples")
BODIES = {
    "required": True,
    "description": (
        "A trial with its readings, as for a verdict, and the names; or elements of kept trials, the "
        "baseline also by the name that it is kept under. openapi/examples holds one of each kind: "
        "design-check-request.json, design-check-samples-request.json, design-check-kept-request.json, "
        "design-check-named-request.json."
    ),
    "content": {
        JSON: {"schema": {"oneOf": [DesignCheckRequestSchema, KeptDesignCheckRequestSchema]}},
        **{media_type: BODY["content"][media_type] for media_type in (*TABLES, FORM)},
    },
}

design_checks = Noun("design-checks", __name__, description="Is the candidate as good as the baseline?")


@design_checks.operation(
    "/v1/design-checks",
    method="POST",
    may="read",
    query=DesignCheckQuerySchema,
    forms=described(CHECK_FORMS, DesignCheckSchema),
    answers=Answers((200,), {OUTCOME: "The outcome over all candidates, whatever the form."} | NAMED),
    problems=(400, 403, 404, 406, 413, 415, 429, 500, 501, 503),
    requestBody=BODIES,
)
def check_designs(query: Mapping[str, Any]) -> Response:
    """Check whether candidates are no more than the margin worse than their baseline.

    In one trial, or in two kept trials through an element that both hold. Nothing is kept.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, CHECK_FORMS)
    wish = CheckForm(form, query["paper"], query["needs_more_runs_fails"], locale(query["locale"]))
    found = _found(query, None if form == "json" else wish)
    if isinstance(found, MadeReport):
        answer = report_answer(found.content, form, CHECK_FORMS, named="design-check")
        answer.headers[OUTCOME] = found.about["outcome"]
        return answer
    answer = json_answer(found)
    answer.headers[OUTCOME] = found["outcome"]
    return answer


design_checks.after_request(vary_by_accept)


def _found(query: Mapping[str, Any], wish: CheckForm | None) -> dict[str, Any] | MadeReport:
    desk = kept_desks().checks
    kept = _kept(query)
    if kept is not None:
        return desk.of_kept(owner(), kept, wish)
    batch = batch_of(request, query)
    with trial_faults_in_query(query), _names_in_query(query):
        names = None
        if any(name in query for name in IN_QUERY) or request.mimetype != JSON:
            parts = query.get("candidate", ()), query.get("samples", ())
            names = names_of_query(query.get("baseline"), *parts)
        return desk.of_batch(batch, names, wish)


def _kept(query: Mapping[str, Any]) -> Names | None:
    """The elements of kept trials that the body names; None where it holds readings."""
    if request.mimetype != JSON:
        return None
    body = whole_body(request)
    content = strict_json(body) if len(body) <= MOST_KEPT_BYTES else None
    if not isinstance(content, dict) or not is_kept(content):
        return None
    taken = {"form", "paper", "locale", "needs_more_runs_fails"}
    detail = "A check on kept trials takes this from the trials or from the body. Leave the parameter out."
    faults = [ParameterFault(detail, parameter=name) for name in query if name not in taken]
    if faults:
        raise BadInput(faults)
    return names_of_kept(content)


@contextmanager
def _names_in_query(query: Mapping[str, Any]) -> Iterator[None]:
    """A fault of a name that the query gave is placed at its parameter."""
    try:
        yield
    except BadInput as error:
        named = any(name in query for name in IN_QUERY) or request.mimetype != JSON
        faults = [_placed(fault) if named else fault for fault in error.faults]
        raise BadInput(faults, count=error.count) from error


def _placed(fault: Fault) -> Fault:
    parameters = {"baseline": "baseline", "candidates": "candidate", "samples": "samples"}
    steps = (fault.pointer or "").split("/")
    name = parameters.get(steps[1]) if len(steps) > 1 else None
    return fault if name is None else ParameterFault(fault.detail, parameter=name, given=fault.given)
