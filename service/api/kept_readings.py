"""/v1/trials/{id}/readings: batches in, all or nothing; all readings out."""

import hashlib
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import FORM, accept_post, batch_of, whole_body
from service.api.cursors import cursor_text, linked, next_page, place_of
from service.api.desk import kept_desks
from service.api.negotiation import TEXT, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, STORED, Answers, Noun
from service.api.query import ParameterFault
from service.api.schemas.kept import (
    EXPORT_FORMS,
    READINGS_A_PAGE,
    BatchAnswerSchema,
    BatchQuerySchema,
    BatchRequestSchema,
    ExportQuerySchema,
    ReadingsPageSchema,
)
from service.api.strict_json import json_answer, json_text
from service.api.trials import ONE, PATH
from service.api.versions import tagged
from service.errors import BadInput, UnsupportedMedia
from service.intake.media_types import JSON, TABLES

if TYPE_CHECKING:
    from service.jobs.kept_batches import NewBatch
    from service.jobs.kept_keys import Answer, Keyed
    from service.jobs.kept_readings import Place

IDEMPOTENCY_KEY = {
    "in": "header",
    "name": "Idempotency-Key",
    "schema": {"type": "string", "minLength": 1, "maxLength": 255},
    "description": "A text that this request alone has. A repeat with the same key and body gets the first "
    "answer and does nothing; another body under the same key is refused (422), a repeat while the first is "
    "being worked on too (409). Answers are kept for 48 hours, refusals are not.",
}

kept_readings = Noun("readings", __name__, description="The readings of kept trials.")


@kept_readings.operation(
    f"{ONE}/readings",
    method="POST",
    query=BatchQuerySchema,
    forms=[(JSON, BatchAnswerSchema)],
    answers=Answers((201,), {"ETag": "The version of the trial, for If-Match."}),
    problems=(400, 404, 409, 413, 415, 429, *STORED, 507),
    parameters=[IDEMPOTENCY_KEY],
    requestBody={
        "description": "The readings; empty where a batch is withdrawn.",
        "content": {JSON: {"schema": BatchRequestSchema}, **{table: {"schema": TEXT} for table in TABLES}},
    },
)
def keep_readings(query: Mapping[str, Any], trial_id: str) -> Response:
    """Keep a batch of readings: all of it, or nothing.

    A cell that is there already is refused with the batch that holds it, unless the batch corrects; what it
    replaces stays in the history. A batch is taken back by withdraws and reason.
    """
    from service.jobs.kept_readings import Place

    body = whole_body(request)
    place = Place(owner(), trial_id, _keyed(body))
    if "withdraws" in query:
        answer = _withdrawn(place, query, body)
    else:
        answer = kept_desks().readings.add(place, _new_batch(query, body))
    return _told(answer)


@kept_readings.operation(
    f"{ONE}/readings",
    query=ExportQuerySchema,
    forms=described(EXPORT_FORMS, ReadingsPageSchema),
    answers=Answers(headers={"Link": 'The next page, rel="next".'} | NAMED),
    problems=(404, 406, 429, *STORED),
)
def export_readings(query: Mapping[str, Any], trial_id: str) -> Response:
    """Export the readings, corrections and withdrawals applied.

    The pages of one export are of one state of the trial: batches that come meanwhile are left out. JSON
    comes in pages, the other forms whole where no limit is given. Every form can be sent in again.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, EXPORT_FORMS)
    limit = query.get("limit", READINGS_A_PAGE if form == "json" else None)
    question = {"list": "readings", "owner": owner(), "trial": trial_id, "form": form, "limit": limit}
    last, start = place_of(query.get("cursor"), question, (int, int)) or (None, 0)
    material = kept_desks().trials.material(owner(), trial_id, up_to=last)
    page = kept_desks().readings.page(material, form, start=start, limit=limit)
    cursor = cursor_text(question, [material.last_batch, start + page.rows]) if page.more else None
    given = {"form": form} | ({"limit": limit} if "limit" in query else {})
    following = next_page(f"{PATH}/{trial_id}/readings", given, cursor)
    return linked(_page_answer(page.content, form, following), following)


kept_readings.after_request(vary_by_accept)


def _page_answer(content: bytes, form: str, following: str | None) -> Response:
    if form == "json":
        content = b'{"readings":' + content + b',"next":' + json_text(following) + b"}"
    answer = Response(content, content_type=EXPORT_FORMS[form])
    if form == "csv":
        answer.content_type = "text/csv; charset=utf-8; header=present"
        answer.headers["Content-Disposition"] = 'attachment; filename="readings.csv"'
    return answer


def _new_batch(query: Mapping[str, Any], body: bytes) -> "NewBatch":
    from service.jobs.kept_batches import NewBatch

    if "reason" in query:
        detail = "A reason by itself says nothing. Corrections give it in corrects=REASON."
        raise BadInput([ParameterFault(detail, parameter="reason", given=query["reason"])])
    if request.mimetype == FORM:
        read = accept_post().removesuffix(f", {FORM}")
        raise UnsupportedMedia(
            f"The trial is kept, so its readings come alone, not in a form. Read are: {read}.",
            headers={"Accept-Post": read},
        )
    batch = batch_of(request, query)
    return NewBatch(
        body,
        batch.media_type,
        nothing_found=batch.nothing_found,
        not_scanned=batch.not_scanned,
        corrects=query.get("corrects"),
    )


def _withdrawn(place: "Place", query: Mapping[str, Any], body: bytes) -> "Answer":
    faults = []
    if "reason" not in query:
        detail = "Say why the batch is taken back: it is kept and printed."
        faults.append(ParameterFault(detail, parameter="reason"))
    if "corrects" in query or body:
        detail = "A batch is taken back by itself: send no readings with it, and no corrects."
        faults.append(ParameterFault(detail, parameter="withdraws", given=query["withdraws"]))
    if faults:
        raise BadInput(faults)
    return kept_desks().readings.withdraw(place, query["withdraws"], query["reason"])


def _keyed(body: bytes) -> "Keyed | None":
    from service.jobs.kept_keys import Keyed, check_key

    key = request.headers.get("Idempotency-Key")
    if key is None:
        return None
    asked = f"{request.method} {request.full_path} {request.mimetype}"
    return Keyed(check_key(key), asked, hashlib.sha256(body).hexdigest())


def _told(answer: "Answer") -> Response:
    return tagged(json_answer(answer.document, status=answer.status), int(answer.document["version"]))
