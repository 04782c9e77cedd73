"""/v1/trials/{id}/archive and /replay: all that a verdict needs, and the verdict reached again from it."""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import whole_body
from service.api.desk import kept_desks
from service.api.noun import STORED, Answers, Noun
from service.api.schemas.archive import ReplaySchema
from service.api.strict_json import json_answer
from service.api.unread_media import not_read
from service.intake.media_types import JSON

ZIP = "application/zip"
BYTES = {"type": "string", "contentMediaType": ZIP}

archives = Noun("archives", __name__, description="Kept trials archived, and their verdicts reached again.")


@archives.operation(
    "/v1/trials/<trial_id>/archive",
    forms=[(ZIP, BYTES)],
    answers=Answers(headers={"Content-Disposition": "A name for the file."}),
    problems=(404, 409, 413, *STORED, 507),
)
def archive_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Archive a trial with all that is needed to reach its verdict again.

    The trial document, its history, each batch as it came and as it was understood, the merged readings, the
    analysis document, seed, versions, and a list of SHA-256. The trial is analysed if it is not yet.
    """
    answer = Response(kept_desks().archives.archive(owner(), trial_id), content_type=ZIP)
    answer.headers["Content-Disposition"] = f'attachment; filename="trial-{trial_id}.zip"'
    return answer


@archives.operation(
    "/v1/trials/<trial_id>/replay",
    method="POST",
    forms=[(JSON, ReplaySchema)],
    problems=(404, 409, 413, 415, *STORED),
    may="read",
    requestBody={"required": False, "content": {ZIP: {"schema": BYTES}}},
)
def replay_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Reach a verdict again and say whether it agrees with the one there was.

    That of the archive in the body, which need not be of this service; without a body that of the trial as it
    is kept here. Nothing is kept.
    """
    body = whole_body(request)
    if not body:
        return json_answer(kept_desks().archives.replay_kept(owner(), trial_id))
    if request.mimetype != ZIP:
        raise not_read(request.mimetype, (ZIP,), "Or send no body.")
    return json_answer(kept_desks().archives.replay_archive(trial_id, body))
