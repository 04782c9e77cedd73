"""Every error as application/problem+json (RFC 9457), whoever raised it.

Three sources end here: errors of our own tree, those of the framework, and whatever nobody caught. The
last kind is logged under an id and told without a trace.
"""

import logging
import secrets
from collections.abc import Mapping
from dataclasses import dataclass

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, InternalServerError

from service.api.request_ids import request_id
from service.api.strict_json import json_answer
from service.errors import BadInput, ServiceError
from service.jobs.failures import Failure, JobError, failure_of

PROBLEM_MEDIA_TYPE = "application/problem+json"
LOG = logging.getLogger("aerial_assay")


@dataclass(frozen=True)
class ProblemKind:
    """One kind of problem: its name in `type`, its title, and what a caller can do about it."""

    name: str
    title: str
    remedy: str


KINDS: Mapping[int, ProblemKind] = {
    400: ProblemKind(
        "unreadable-request",
        "The request could not be read",
        "Send a body that is what its Content-Type says, to a host name of this service.",
    ),
    401: ProblemKind(
        "token-wanted",
        "A token is wanted",
        "Send the header Authorization: Bearer, with a token that is valid.",
    ),
    403: ProblemKind(
        "not-allowed",
        "Not allowed",
        "Use a token of the scope that the detail names; send no writes from a page of another site.",
    ),
    404: ProblemKind("not-found", "Not found", "GET /v1/openapi.json lists what is there."),
    405: ProblemKind("method-not-allowed", "Method not allowed", "Use one of the methods in Allow."),
    406: ProblemKind("no-such-form", "No such form", "Ask for one of the forms that the detail lists."),
    409: ProblemKind("conflict", "Not possible just now", "The detail says what stands in the way."),
    412: ProblemKind(
        "changed-since",
        "It has changed since",
        "Read it again, see whether the change is still wanted, and send it with the new ETag in If-Match.",
    ),
    413: ProblemKind("over-a-limit", "Over a limit", "Send less; the detail names the limit and the remedy."),
    415: ProblemKind(
        "media-type-not-read",
        "Media type not read here",
        "Use one of the media types in Accept-Post, without a content encoding.",
    ),
    422: ProblemKind(
        "bad-input", "The input has faults", "Mend each place listed in errors and send it again."
    ),
    428: ProblemKind(
        "version-wanted",
        "Name the version",
        "Send the ETag of what you read in If-Match, so that nobody else's change is lost.",
    ),
    431: ProblemKind("header-too-large", "Header too large", "Send at most 32 KiB of header fields."),
    429: ProblemKind("too-many-requests", "Too many requests", "Wait as long as Retry-After says."),
    500: ProblemKind(
        "own-fault",
        "A fault of our own",
        "The input is not at fault. Report the id; it stands in the service's log.",
    ),
    501: ProblemKind("not-done-here", "Not done here", "Do what the detail says, or ask for something else."),
    503: ProblemKind(
        "try-again", "Not able to answer just now", "Wait as long as Retry-After says and send it again."
    ),
    507: ProblemKind(
        "storage-full", "No room to keep it", "Make room on the disk of the database and send it again."
    ),
}
"""What each status means here. Statuses outside the table count as 400 or, from 500 up, as 500."""


def kind_of(status: int) -> ProblemKind:
    """The kind of a status."""
    return KINDS.get(status) or KINDS[500 if status >= 500 else 400]


def problem_document(status: int, detail: str, **more: object) -> dict[str, object]:
    """The members of a problem; `more` are further members, left out where they are None."""
    kind = kind_of(status)
    head = {"type": f"/v1/problems/{kind.name}", "title": kind.title, "status": status, "detail": detail}
    return head | {name: value for name, value in more.items() if value is not None}


def answer_errors_of(app: Flask) -> None:
    """Let the app answer every error as a problem."""
    app.register_error_handler(ServiceError, _own_error)
    app.register_error_handler(HTTPException, http_problem)


def problem_of(error: Exception) -> Response:
    """The problem that tells of an error of our own tree or of the framework's."""
    return _own_error(error) if isinstance(error, ServiceError) else http_problem(_of_framework(error))


def http_problem(error: HTTPException) -> Response:
    """The framework's error as a problem, its headers kept but for the type and the length."""
    if isinstance(error, InternalServerError):
        return _failed(failure_of(error.original_exception or error))
    status = error.code or 500
    answer = _problem(status, _detail(status, error))
    for name, value in error.get_headers():
        if name.lower() not in {"content-type", "content-length"}:
            answer.headers[name] = value
    return answer


def _of_framework(error: Exception) -> HTTPException:
    return error if isinstance(error, HTTPException) else InternalServerError(original_exception=error)


def _own_error(error: ServiceError) -> Response:
    if isinstance(error, JobError):
        return _failed(error.failure, status=error.status, headers=error.headers)
    faults = [fault.document() for fault in error.faults] if isinstance(error, BadInput) else None
    count = error.count if isinstance(error, BadInput) else None
    answer = _problem(error.status, error.detail, errors=faults, count=count)
    answer.headers.extend(error.headers)
    return answer


def _failed(failure: Failure, *, status: int = 500, headers: Mapping[str, str] | None = None) -> Response:
    problem_id = secrets.token_hex(8)
    ids = {"request_id": request_id(), "problem_id": problem_id}
    seen = {"method": request.method, "path": request.path, "kind": failure.kind, "frames": failure.frames}
    LOG.error("a fault of our own", extra={**ids, **seen})
    answer = _problem(status, kind_of(status).remedy, id=problem_id)
    answer.headers.extend(dict(headers or {}))
    return answer


def _problem(status: int, detail: str, **more: object) -> Response:
    document = problem_document(status, detail, **more)
    return json_answer(document, status=status, media_type=PROBLEM_MEDIA_TYPE)


def _detail(status: int, error: HTTPException) -> str:
    if status == 404:
        return f"Nothing is at {request.path}. {KINDS[404].remedy}"
    if status == 405:
        allowed = ", ".join(sorted(getattr(error, "valid_methods", None) or []))
        return f"{request.method} is not answered at {request.path}; allowed: {allowed}."
    if status == 413:
        most = request.max_content_length
        return (
            f"The body passes a limit: at most {most} bytes in all, and 1 MiB in a form field. "
            "Send fewer rounds or fewer channels at a time."
        )
    return error.description or kind_of(status).remedy
