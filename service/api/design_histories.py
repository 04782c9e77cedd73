"""POST /v1/design-histories: does a design creep over the dates of several kept trials?"""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import whole_body
from service.api.desk import kept_desks, locale
from service.api.negotiation import HISTORY_FORMS, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, Answers, Noun
from service.api.report_answers import OUTCOME, report_answer
from service.api.schemas.design_histories import (
    DesignHistoryQuerySchema,
    DesignHistoryRequestSchema,
    DesignHistorySchema,
)
from service.api.strict_json import json_answer
from service.api.unread_media import not_read
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json

BODY = {
    "required": True,
    "description": (
        "An element, the reference, and three or more kept trials that hold both. openapi/examples holds "
        "one, design-history-request.json, and the trial and readings that belong to it."
    ),
    "content": {JSON: {"schema": DesignHistoryRequestSchema}},
}

design_histories = Noun("design-histories", __name__, description="Does a design creep?")


@design_histories.operation(
    "/v1/design-histories",
    method="POST",
    may="read",
    query=DesignHistoryQuerySchema,
    forms=described(HISTORY_FORMS, DesignHistorySchema),
    answers=Answers((200,), {OUTCOME: "The outcome, whatever the form."} | NAMED),
    problems=(400, 403, 404, 406, 413, 415, 429, 500, 501, 503),
    requestBody=BODY,
)
def history_of_design(query: Mapping[str, Any]) -> Response:
    """Follow an element over the dates of kept trials, each time through the reference: does it creep?

    A line through the trials, its change over the dates held against the margin, and the first trial against
    the last. The order of the trials does not matter. Nothing is kept.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, HISTORY_FORMS)
    if request.mimetype != JSON:
        raise not_read(request.mimetype, (JSON,))
    question, desk = strict_json(whole_body(request)), kept_desks().histories
    if form == "json":
        document = desk.document(owner(), question)
        answer, outcome = json_answer(document), document["outcome"]
    else:
        wish = {"paper": query["paper"], "locale": locale(query["locale"])}
        made = desk.report(owner(), question, form=form, **wish)
        answer = report_answer(made.content, form, HISTORY_FORMS, named="design-history")
        outcome = made.about["outcome"]
    answer.headers[OUTCOME] = outcome
    return answer


design_histories.after_request(vary_by_accept)
