"""/v1/baselines: elements of kept trials under a name, to hold new designs against."""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.cursors import Listed
from service.api.desk import kept_desks
from service.api.noun import STORED, Answers, Noun
from service.api.schemas.baselines import BaselinePageSchema, BaselineRequestSchema, BaselineSchema
from service.api.schemas.kept import TRIALS_A_PAGE, PageQuerySchema
from service.api.strict_json import json_answer
from service.api.trials import ETAG, IF_MATCH, IF_NONE_MATCH, json_body
from service.api.versions import tagged, wanted_version
from service.intake.media_types import JSON

PATH = "/v1/baselines"
ONE = f"{PATH}/<baseline_id>"
OF_IT = {"baseline_id": "$response.body#/id"}
REMOVED = OF_IT | {"header.If-Match": "$response.header.ETag"}

baselines = Noun("baselines", __name__, description="Elements of kept trials to hold new designs against.")


@baselines.operation(
    PATH,
    method="POST",
    forms=[(JSON, BaselineSchema)],
    answers=Answers(
        (201,),
        {"Location": "The path of the baseline."} | ETAG,
        {"show_baseline": OF_IT, "remove_baseline": REMOVED},
    ),
    problems=(400, 404, 413, 415, *STORED, 507),
    requestBody={
        "required": True,
        "description": "openapi/examples/baseline-request.json is one.",
        "content": {JSON: {"schema": BaselineRequestSchema}},
    },
)
def keep_baseline(_query: Mapping[str, Any]) -> Response:
    """Keep an element of a kept trial under a name.

    Its trial goes on as before: what is held against the baseline is held against all its readings of then.
    """
    from service.jobs.baselines import VERSION  # here: it brings the database, which a verdict does without

    kept = kept_desks().baselines.create(owner(), json_body(JSON))
    answer = json_answer(kept, status=201)
    answer.headers["Location"] = f"{PATH}/{kept['id']}"
    return tagged(answer, VERSION)


@baselines.operation(
    PATH,
    query=PageQuerySchema,
    forms=[(JSON, BaselinePageSchema)],
    answers=Answers(headers={"Link": 'The next page, rel="next".'}),
    problems=STORED,
)
def list_baselines(query: Mapping[str, Any]) -> Response:
    """List the baselines that are kept, the newest first."""
    listed = Listed("baselines", PATH, {"owner": owner()}, TRIALS_A_PAGE)
    desk = kept_desks().baselines
    return listed.answer(query, lambda after, limit: desk.page(owner(), after, limit=limit))


@baselines.operation(
    ONE,
    forms=[(JSON, BaselineSchema)],
    answers=Answers((200, 304), ETAG, {"remove_baseline": REMOVED}),
    problems=(404, *STORED),
    parameters=[IF_NONE_MATCH],
)
def show_baseline(_query: Mapping[str, Any], baseline_id: str) -> Response:
    """Show a baseline: its trial and element, its date, and whether the trial is still there."""
    from service.jobs.baselines import VERSION  # here: it brings the database, which a verdict does without

    answer = tagged(json_answer(kept_desks().baselines.get(owner(), baseline_id)), VERSION)
    answer.make_conditional(request)
    return answer


@baselines.operation(
    ONE,
    method="DELETE",
    answers=Answers((204,)),
    problems=(404, 412, 428, *STORED, 507),
    parameters=[IF_MATCH],
)
def remove_baseline(_query: Mapping[str, Any], baseline_id: str) -> Response:
    """Remove a baseline; its trial and what was found of it stay."""
    kept_desks().baselines.remove(owner(), baseline_id, wanted_version())
    return Response(status=204)
