"""The body of a request as a batch: JSON, a table with its trial in the query, or a form with both."""

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import Any

from flask import Request
from werkzeug.datastructures import FileStorage

from service.api.negotiation import FILE
from service.api.query import ParameterFault
from service.api.schemas.query import MARK_FIELDS, METER_FIELDS, TRIAL_FIELDS, trial_of_query
from service.api.unread_media import not_read
from service.errors import BadInput, BadRequest, UnsupportedMedia
from service.intake.media_types import ENDINGS, JSON, TABLES
from service.intake.strict_json import strict_json
from service.jobs.verdicts import Batch

FORM = "multipart/form-data"
CHARSETS = ("utf-8", "us-ascii", "windows-1252", "utf-16")
"""Charsets that a table may be said to be in; which of them it is in, the bytes tell."""
READ_HERE = (JSON, *TABLES, FORM)
OTHERWISE = "Save any other table as CSV or XLSX."
PARTS = ("readings", "trial")


def batch_of(request: Request, query: Mapping[str, Any]) -> Batch:
    """The batch that the request brings; the query was parsed before.

    Raises UnsupportedMedia for a media type or charset not read here, BadInput for fields said twice or
    parts that are missing or not known, the framework's 413 for a body over the limit.
    """
    if request.mimetype == JSON:
        _refuse_said_twice(query, METER_FIELDS + TRIAL_FIELDS + MARK_FIELDS)
        return Batch(whole_body(request), JSON)
    if request.mimetype in TABLES:
        _refuse_charset(request.mimetype_params.get("charset"))
        return Batch(whole_body(request), request.mimetype, trial_of_query(query), **_marks(query))
    if request.mimetype == FORM:
        return _batch_of_form(request, query)
    raise not_read(request.mimetype, READ_HERE, OTHERWISE)


def form_of(part: str, document: type, *, required: Sequence[str]) -> dict[str, Any]:
    """How a form is described that holds a file of readings and a document in the part of that name."""
    return {
        "schema": {
            "type": "object",
            "properties": {PARTS[0]: FILE, part: document},
            "required": list(required),
        },
        "encoding": {PARTS[0]: {"contentType": ", ".join(TABLES)}, part: {"contentType": JSON}},
    }


def trial_is_in_query(request: Request) -> bool:
    """Whether the query spells the trial out, and not the body."""
    parts = {*request.form, *request.files} if request.mimetype == FORM else set()
    return request.mimetype != JSON and "trial" not in parts


def whole_body(request: Request) -> bytes:
    """All bytes of the body. Raises the framework's 413 also where no length was announced.

    A body without a length is cut at the limit in silence; reading one byte more raises what is due.
    """
    body = request.get_data()
    request.stream.read(1)
    return body


def accept_post() -> str:
    """The media types read here, as the Accept-Post header (W3C Linked Data Platform 1.0, 7.1) lists them."""
    return ", ".join(READ_HERE)


def _batch_of_form(request: Request, query: Mapping[str, Any]) -> Batch:
    whole_body(request)
    parts = _parts(request)
    readings = parts.get("readings")
    if not isinstance(readings, FileStorage):
        raise BadInput([ParameterFault("The form needs a file under this name.", parameter="readings")])
    trial = trial_of_query(query)
    if "trial" in parts:
        _refuse_said_twice(query, METER_FIELDS + TRIAL_FIELDS)
        trial = _trial_part(parts["trial"])
    return Batch(readings.stream.read(), _media_type(readings), trial, **_marks(query))


def file_and_document(request: Request, name: str) -> tuple[object, Batch]:
    """The JSON document in the part `name` of a form, and the file of readings beside it.

    Raises BadInput for parts that are missing or not known, BadRequest for what is no JSON.
    """
    whole_body(request)
    parts = _parts(request, (PARTS[0], name))
    readings, document = parts.get(PARTS[0]), parts.get(name)
    if not isinstance(readings, FileStorage):
        raise BadInput([ParameterFault("The form needs a file under this name.", parameter=PARTS[0])])
    if document is None:
        raise BadInput([ParameterFault("The form needs a JSON document under this name.", parameter=name)])
    batch = Batch(readings.stream.read(), _media_type(readings))
    return strict_json(_content(document), name=f"The part {name}"), batch


def _parts(request: Request, allowed: tuple[str, ...] = PARTS) -> dict[str, FileStorage | str]:
    given: list[tuple[str, FileStorage | str]] = list(request.files.items(multi=True))
    given += request.form.items(multi=True)
    names = [name or "" for name, _ in given]
    faults = [
        ParameterFault(f"Parts of the form are {' and '.join(allowed)}, each once.", parameter=name)
        for place, name in enumerate(names)
        if name not in allowed or name in names[:place]
    ]
    if faults:
        raise BadInput(faults)
    return dict(given)


def _trial_part(part: FileStorage | str) -> dict[str, Any]:
    trial = strict_json(_content(part), name="The part trial")
    if not isinstance(trial, dict):
        raise BadRequest("The part trial must hold one JSON object, the trial document.")
    return trial


def _content(part: FileStorage | str) -> bytes:
    return part.stream.read() if isinstance(part, FileStorage) else part.encode()


def _media_type(part: FileStorage) -> str:
    """The media type of a part; browsers know tables badly, so the file's ending counts where it tells."""
    _refuse_charset(part.mimetype_params.get("charset"))
    if part.mimetype in TABLES:
        return part.mimetype
    ending = PurePath(part.filename or "").suffix.lower()
    if ENDINGS.get(ending) in TABLES:
        return ENDINGS[ending]
    raise not_read(part.mimetype, READ_HERE, OTHERWISE)


def _marks(query: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    return {name: query[name] for name in MARK_FIELDS if name in query}


def _refuse_said_twice(query: Mapping[str, Any], names: tuple[str, ...]) -> None:
    detail = "The trial document in the body says this. Leave the parameter out."
    faults = [ParameterFault(detail, parameter=name) for name in names if name in query]
    if faults:
        raise BadInput(faults)


def _refuse_charset(charset: str | None) -> None:
    if charset is not None and charset.lower() not in CHARSETS:
        raise UnsupportedMedia(
            f"A table in the charset {charset!r} is not read. Save it as UTF-8.",
            headers={"Accept-Post": accept_post()},
        )
