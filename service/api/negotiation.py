"""Which form of an answer is wanted: `?form=` decides, else the Accept header, else JSON."""

from collections.abc import Mapping
from typing import Any

from flask import Response
from werkzeug.datastructures import MIMEAccept

from service.errors import NotAcceptable
from service.intake.media_types import CSV, JSON, XLSX

_DOCUMENTS: Mapping[str, str] = {
    "json": JSON,
    "html": "text/html",
    "pdf": "application/pdf",
    "markdown": "text/markdown",
}
VERDICT_FORMS: Mapping[str, str] = {
    **_DOCUMENTS,
    "junit": "application/xml",
    "csv": CSV,
    "card": "image/png",
    "summary": "text/plain",
}
CHECK_FORMS: Mapping[str, str] = {**_DOCUMENTS, "junit": "application/xml", "text": "text/plain"}
HISTORY_FORMS: Mapping[str, str] = {**_DOCUMENTS, "text": "text/plain"}
PLAN_FORMS: Mapping[str, str] = {
    "json": JSON,
    "csv": CSV,
    "xlsx": XLSX,
    "html": "text/html",
    "pdf": "application/pdf",
    "text": "text/plain",
}


TEXT = {"type": "string"}
FILE = {"type": "string", "contentMediaType": "application/octet-stream"}
_BINARY: Mapping[str, Any] = {
    PLAN_FORMS["xlsx"]: FILE,
    **{media: {"type": "string", "contentMediaType": media} for media in ("application/pdf", "image/png")},
}


def described(forms: Mapping[str, str], document: type) -> list[tuple[str, Any]]:
    """Media type and schema of each form; `document` is the schema of JSON."""
    known = {JSON: document, **_BINARY}
    return [(media_type, known.get(media_type, TEXT)) for media_type in forms.values()]


def wanted_form(form: str | None, accept: MIMEAccept, forms: Mapping[str, str]) -> str:
    """The name of the form to answer in; `forms` maps names to media types, the first wins ties.

    Raises NotAcceptable, naming the forms there are.
    """
    if form is not None:
        if form in forms:
            return form
        raise NotAcceptable(f"There is no form {form!r} here. {_offer(forms)}")
    if not accept:
        return next(iter(forms))
    best = max(forms, key=lambda name: accept.quality(forms[name]))
    if accept.quality(forms[best]) <= 0:
        raise NotAcceptable(f"None of the media types of the Accept header is made here. {_offer(forms)}")
    return best


def vary_by_accept(response: Response) -> Response:
    """Another Accept header may get another form."""
    response.headers["Vary"] = "Accept"
    return response


def _offer(forms: Mapping[str, str]) -> str:
    return "There are: " + ", ".join(f"{name} ({media})" for name, media in forms.items()) + "."
