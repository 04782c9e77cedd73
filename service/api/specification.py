"""The description of the service (OpenAPI 3.1), written by the code itself."""

import json
from collections.abc import Mapping
from typing import Any

from flask import Flask, Response, current_app
from flask_smorest import Api

from service.api.noun import OPEN, SCHEME, Noun
from service.api.problems import KINDS, PROBLEM_MEDIA_TYPE
from service.api.schemas.problem import ProblemKindSchema, ProblemSchema
from service.api.strict_json import json_answer
from service.api.webhook_description import WEBHOOKS
from service.errors import NotKnown
from service.intake.media_types import JSON

DESCRIPTION = (
    "Says which receive-antenna element is better, by how much, and whether the trial can say it at all. "
    "Every error is application/problem+json. Every answer carries an X-Request-Id, the id of the request in "
    "the log; what a proxy or caller gave there is kept."
)
CONFIGURATION = {
    "API_TITLE": "Aerial Assay",
    "API_VERSION": "1",
    "OPENAPI_VERSION": "3.1.0",
    "OPENAPI_URL_PREFIX": None,
    "API_SPEC_OPTIONS": {
        "info": {"description": DESCRIPTION, "license": {"name": "MIT", "identifier": "MIT"}},
        "servers": [{"url": "/"}],
        "security": [{SCHEME: []}, {}],
        "webhooks": WEBHOOKS,
    },
}

TOKEN = {
    "type": "http",
    "scheme": "bearer",
    "bearerFormat": "aa_ and 64 hexadecimal digits",
    "description": "Wanted wherever others than the service's own machine can reach it. "
    "`aerial-assay token add` gives one, for the scope read, write or admin, each with those before it; "
    "each operation names the scope that it wants.",
}

PROBLEM_HEADERS: Mapping[str, Mapping[str, str]] = {
    KINDS[401].name: {"WWW-Authenticate": "How to show a token."},
    KINDS[403].name: {"WWW-Authenticate": "The scope that is wanted, where the token has another."},
    KINDS[405].name: {"Allow": "The methods that are answered."},
    KINDS[409].name: {"Retry-After": "The seconds after which to ask again, where waiting helps."},
    KINDS[412].name: {"ETag": "The present version."},
    KINDS[415].name: {
        "Accept-Post": "The media types that are read.",
        "Accept-Patch": "PATCH: the media types that are read.",
        "Accept-Encoding": "identity, where the body came encoded.",
    },
    KINDS[429].name: {"Retry-After": "The seconds after which to ask again."},
    KINDS[503].name: {"Retry-After": "The seconds after which to ask again."},
}
"""What the headers of each kind of problem mean."""

described = Noun("description", __name__, description="The service about itself.")


class ProblemApi(Api):  # type: ignore[misc] # the library has no types
    """Registers the nouns and describes their errors as problems; answering errors is not its business."""

    DEFAULT_ERROR_RESPONSE_NAME = "problem"
    ERROR_SCHEMA = ProblemSchema

    def _register_error_handlers(self) -> None:
        """None: `service.api.problems` answers them."""

    def _register_responses(self) -> None:
        content = {PROBLEM_MEDIA_TYPE: {"schema": ProblemSchema}}
        told = {kind.name: f"{kind.title}. {kind.remedy}" for kind in KINDS.values()}
        told[self.DEFAULT_ERROR_RESPONSE_NAME] = "Any other error."
        for name, text in told.items():
            described = {"description": text, "content": content} | _headers(name)
            self.spec.components.response(name, described, lazy=True)

        self.spec.components.security_scheme(SCHEME, TOKEN)

    def _register_etag_headers(self) -> None:
        """None: no route takes or gives entity tags."""

    def _register_pagination_header(self) -> None:
        """None: no answer comes in pages."""


def _headers(problem: str) -> dict[str, Any]:
    """The headers of a kind of problem, as a member of its description; any of them may come with others."""
    every = {name: text for told in PROBLEM_HEADERS.values() for name, text in told.items()}
    told = PROBLEM_HEADERS.get(problem, every if problem == ProblemApi.DEFAULT_ERROR_RESPONSE_NAME else {})
    headers = {name: {"description": text, "schema": {"type": "string"}} for name, text in told.items()}
    return {"headers": headers} if headers else {}


@described.operation("/v1/openapi.json", may=OPEN, forms=[(JSON, {"type": "object"})], problems=(500,))
def openapi(_query: Mapping[str, Any]) -> Response:
    """Describe the service (OpenAPI 3.1)."""
    app = current_app._get_current_object()  # type: ignore[attr-defined] # the proxy has it, its types do not
    return json_answer(specification(app))


@described.operation("/v1/problems/<name>", may=OPEN, forms=[(JSON, ProblemKindSchema)], problems=(404, 500))
def problem_kind(_query: Mapping[str, Any], name: str) -> Response:
    """Tell what a problem type means and what can be done about it."""
    for status, kind in KINDS.items():
        if kind.name == name:
            return json_answer({"name": name, "title": kind.title, "status": status, "remedy": kind.remedy})
    known = ", ".join(kind.name for kind in KINDS.values())
    raise NotKnown(f"There is no problem type {name!r}. There are: {known}.")


def specification(app: Flask) -> dict[str, Any]:
    """The description of the app's routes."""
    api = app.extensions["flask-smorest"]["apis"][""]["ext_obj"]
    document: dict[str, Any] = api.spec.to_dict()
    return document


def specification_text(app: Flask) -> str:
    """The description as it stands in openapi/openapi.json."""
    return json.dumps(specification(app), ensure_ascii=False, indent=2) + "\n"
