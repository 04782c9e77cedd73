"""/v1/trials: trials that are kept, found by their owner alone."""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import whole_body
from service.api.cursors import Listed
from service.api.desk import kept_desks
from service.api.noun import STORED, Answers, Noun
from service.api.schemas.kept import (
    TRIALS_A_PAGE,
    KeptTrialSchema,
    PageQuerySchema,
    TrialPageSchema,
    TrialPatchSchema,
)
from service.api.schemas.trial import TrialSchema
from service.api.strict_json import json_answer
from service.api.unread_media import not_read
from service.api.versions import tagged, wanted_version
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json

PATH = "/v1/trials"
ONE = f"{PATH}/<trial_id>"
MERGE_PATCH = "application/merge-patch+json"
ETAG = {"ETag": "The version, for If-Match."}
IF_MATCH = {
    "in": "header",
    "name": "If-Match",
    "required": True,
    "schema": {"type": "string"},
    "description": "The ETag of what was read, or * for any version.",
}

IF_NONE_MATCH = {
    "in": "header",
    "name": "If-None-Match",
    "schema": {"type": "string"},
    "description": "The ETag of what is there already; 304 if it has not changed.",
}
OF_IT = {"trial_id": "$response.body#/id"}
VERSIONED = OF_IT | {"header.If-Match": "$response.header.ETag"}
NEXT_STEPS = {
    "show_trial": OF_IT,
    "change_trial": VERSIONED,
    "remove_trial": VERSIONED,
    "keep_readings": OF_IT,
    "export_readings": OF_IT,
    "analyse_trial": OF_IT,
    "list_analyses": OF_IT,
    "archive_trial": OF_IT,
    "replay_trial": OF_IT,
}
"""What can be done with a trial that was just kept."""

trials = Noun("trials", __name__, description="Trials that are kept for weeks, fed as runs are done.")


@trials.operation(
    PATH,
    method="POST",
    forms=[(JSON, KeptTrialSchema)],
    answers=Answers((201,), {"Location": "The path of the trial."} | ETAG, NEXT_STEPS),
    problems=(400, 413, 415, *STORED, 507),
    requestBody={"required": True, "content": {JSON: {"schema": TrialSchema}}},
)
def keep_trial(_query: Mapping[str, Any]) -> Response:
    """Keep a trial.

    Whether the elements that it refers to are there is checked when it is analysed.
    """
    seen = kept_desks().trials.create(owner(), json_body(JSON))
    answer = json_answer(seen.document, status=201)
    answer.headers["Location"] = f"{PATH}/{seen.document['id']}"
    return tagged(answer, seen.version)


@trials.operation(
    PATH,
    query=PageQuerySchema,
    forms=[(JSON, TrialPageSchema)],
    answers=Answers(headers={"Link": 'The next page, rel="next".'}),
    problems=STORED,
)
def list_trials(query: Mapping[str, Any]) -> Response:
    """List the trials that are kept, the newest first."""
    listed = Listed("trials", PATH, {"owner": owner()}, TRIALS_A_PAGE)
    desk = kept_desks().trials
    return listed.answer(query, lambda after, limit: desk.page(owner(), after, limit=limit))


@trials.operation(
    ONE,
    forms=[(JSON, KeptTrialSchema)],
    answers=Answers((200, 304), ETAG, {"change_trial": VERSIONED, "remove_trial": VERSIONED}),
    problems=(404, *STORED),
    parameters=[IF_NONE_MATCH],
)
def show_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Show a trial: its document as it was given, and what became of it."""
    seen = kept_desks().trials.get(owner(), trial_id)
    answer = tagged(json_answer(seen.document), seen.version)
    answer.make_conditional(request)
    return answer


@trials.operation(
    ONE,
    method="PATCH",
    forms=[(JSON, KeptTrialSchema)],
    answers=Answers(headers=ETAG),
    problems=(400, 404, 412, 413, 415, 428, *STORED, 507),
    parameters=[IF_MATCH],
    requestBody={
        "required": True,
        "description": "Members of the trial document, and the reason.",
        "content": {MERGE_PATCH: {"schema": TrialPatchSchema}, JSON: {"schema": TrialPatchSchema}},
    },
)
def change_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Change a trial by a merge patch (RFC 7396).

    After readings have come, the plan (margin, confidence, planned_rounds, looks, reference), struck runs and
    whatever else moves the verdict change only with a reason; the change is kept, dated and printed. The
    meter that readings were read by stays.
    """
    version = wanted_version()
    seen = kept_desks().trials.change(owner(), trial_id, json_body(JSON, MERGE_PATCH), version=version)
    return tagged(json_answer(seen.document), seen.version)


@trials.operation(
    ONE,
    method="DELETE",
    answers=Answers((204,)),
    problems=(404, 412, 428, *STORED, 507),
    parameters=[IF_MATCH],
)
def remove_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Remove a trial with all its readings and analyses."""
    kept_desks().trials.remove(owner(), trial_id, wanted_version())
    return Response(status=204)


def json_body(*media_types: str) -> Any:
    """The JSON that the request brings. Raises UnsupportedMedia for another media type, BadRequest."""
    if request.mimetype not in media_types:
        raise not_read(request.mimetype, media_types)
    return strict_json(whole_body(request))
