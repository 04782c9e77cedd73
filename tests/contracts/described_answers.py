"""Holds every answer of the application against its description.

A `Watch` listens to each `Application` of this process: what it answers must have a status, a media
type, headers and a body that the description knows for that route. Faults are collected instead of raised,
since an exception on the way out would become an answer itself.
"""

import json
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

import jsonschema_rs

OPENAPI = Path(__file__).parents[2] / "openapi"
WHOLE = {
    "analysis/1": "analysis-document.schema.json",
    "design-check/1": "design-check.schema.json",
    "design-history/1": "design-history.schema.json",
}
"""Documents that the description shows in outline alone, and their schema beside it."""
OF_HTTP = {"content-type", "content-length", "vary", "cache-control", "date"}
OF_EVERY_ANSWER = {
    "content-security-policy",
    "cross-origin-resource-policy",
    "x-content-type-options",
    "referrer-policy",
    "x-request-id",
}
BEGINNINGS = {
    "text/html": b"<!doctype html>",
    "application/pdf": b"%PDF-1.",
    "application/xml": b"<?xml ",
    "application/zip": b"PK\x03\x04",
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": b"PK\x03\x04",
    "image/png": b"\x89PNG\r\n",
    "image/x-icon": b"\x00\x00\x01\x00",
}
PROBLEM = "application/problem+json"
ROOT_URI = "urn:description"


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no JSON")


class Described:
    """A description, and what is wrong with an answer by it."""

    def __init__(self, document: Mapping[str, Any]):
        self.document = document
        self.rules = {path.replace("{", "<").replace("}", ">") for path in document["paths"]}
        registry = jsonschema_rs.Registry([(ROOT_URI, document)])
        self._validator = cache(
            lambda pointer: jsonschema_rs.Draft202012Validator(
                {"$ref": f"{ROOT_URI}#{quote(pointer)}"}, registry=registry, validate_formats=True
            )
        )

    def faults(self, asked: tuple[str, str], answer) -> list[str]:
        """What is wrong with the answer to a method and a rule of the application."""
        method, rule = asked
        path = rule.replace("<", "{").replace(">", "}")
        name = {"HEAD": "get"}.get(method, method.lower())
        if name not in self.document["paths"][path]:
            return [f"{method} {rule} is not described"]
        pointer = f"/paths/{path.replace('~', '~0').replace('/', '~1')}/{name}/responses/{answer.status_code}"
        responses = self.document["paths"][path][name]["responses"]
        if str(answer.status_code) not in responses:
            return [f"{answer.status_code} is not described"]
        return self.faults_of(responses[str(answer.status_code)], pointer, answer)

    def faults_of(self, response: Mapping[str, Any], pointer: str, answer) -> list[str]:
        """What is wrong with an answer by its description, which stands at the pointer."""
        if "$ref" in response:
            pointer = response["$ref"].removeprefix("#")
            response = self.document["components"]["responses"][pointer.rsplit("/", 1)[1]]
        return [*_header_faults(response, answer), *self._body_faults(response, pointer, answer)]

    def problem_faults(self, answer) -> list[str]:
        """What is wrong with the answer to a request that no route took."""
        if answer.status_code not in {400, 401, 403, 404, 405, 415, 429, 503}:
            return [f"{answer.status_code} where no route is"]
        return self.faults_of({"$ref": "#/components/responses/problem"}, "", answer)

    def _body_faults(self, response: Mapping[str, Any], pointer: str, answer) -> list[str]:
        content = response.get("content", {})
        body = answer.get_data()
        if answer.status_code == 304:
            return []  # the server sends none
        if not content:
            return ["a body where none is described"] if body else []
        if answer.mimetype not in content:
            return [f"the media type {answer.mimetype!r} is not described"]
        if not answer.mimetype.endswith(("/json", "+json")):
            return _text_faults(answer.mimetype, body)
        try:
            document = json.loads(body, parse_constant=_no_number)
        except ValueError as error:
            return [f"no JSON: {error}"]
        media_type = answer.mimetype.replace("/", "~1")
        validator = self._validator(f"{pointer}/content/{media_type}/schema")
        told = [f"{_place(error)}: {error.message[:300]}" for error in validator.iter_errors(document)]
        return told[:5] + _whole_faults(document)


def _place(error) -> str:
    return "#" + "".join(f"/{step}" for step in error.instance_path)


def _header_faults(response: Mapping[str, Any], answer) -> list[str]:
    known = {name.lower() for name in response.get("headers", {})} | OF_HTTP | OF_EVERY_ANSWER
    faults = [
        f"the header {name} is not described" for name, _ in answer.headers if name.lower() not in known
    ]
    missing = OF_EVERY_ANSWER - {name.lower() for name, _ in answer.headers}
    return faults + [f"the header {name} is missing" for name in sorted(missing)]


def _text_faults(media_type: str, body: bytes) -> list[str]:
    beginning = BEGINNINGS.get(media_type)
    if beginning is not None:
        return [] if body[: len(beginning)].lower() == beginning.lower() else [f"begins with {body[:20]!r}"]
    try:
        text = body.decode()
    except UnicodeDecodeError as error:
        return [f"no UTF-8: {error}"]
    lines = text.splitlines() if media_type == "application/x-ndjson" else []
    return [f"no JSON: {line[:80]}" for line in lines if not isinstance(json.loads(line), dict)]


@cache
def _whole(name: str) -> jsonschema_rs.Draft202012Validator:
    return jsonschema_rs.Draft202012Validator(json.loads((OPENAPI / name).read_text(encoding="utf-8")))


def _whole_faults(document: object) -> list[str]:
    """What is wrong with each such document in the answer by its own schema."""
    found = [document, document.get("analysis")] if isinstance(document, dict) else []
    faults = []
    for inner in found:
        name = WHOLE.get(inner.get("format")) if isinstance(inner, dict) else None
        if name is not None:
            faults += [f"{_place(error)}: {error.message[:300]}" for error in _whole(name).iter_errors(inner)]
    return faults[:5]


@cache
def description() -> Described:
    """The description that the code of the application writes."""
    from service.api.specification import specification
    from service.app import create_app

    return Described(specification(create_app()))


def answer_faults(request, answer) -> list[str]:
    """What is wrong with the answer to a request of the application, with the request beside it."""
    rule = request.url_rule
    if rule is None:
        found = _faults_where_no_route_is(request, answer)
    elif (request.blueprint or "").startswith("pages-"):
        found = _page_faults(answer)
    elif rule.rule not in description().rules:  # a route that a test has added to its application
        found = description().problem_faults(answer) if answer.mimetype == PROBLEM else []
    else:
        found = description().faults((request.method, rule.rule), answer)
    asked = f"{request.method} {request.full_path[:200]} -> {answer.status_code} {answer.mimetype}"
    return [f"{asked}: {fault}" for fault in found]


def _faults_where_no_route_is(request, answer) -> list[str]:
    page = "text/html" in request.accept_mimetypes.values() and not request.path.startswith("/v1/")
    return (
        _page_faults(answer) if page and answer.mimetype != PROBLEM else description().problem_faults(answer)
    )


def _page_faults(answer) -> list[str]:
    """Pages are no part of the description; what holds for all answers holds for them."""
    known = {"headers": dict(answer.headers)}
    packed = "Content-Encoding" in answer.headers or answer.status_code in {204, 303, 304}
    body = [] if packed else _text_faults(answer.mimetype, answer.get_data())
    return _header_faults(known, answer) + body


class Watch:
    """Listens to every application of this process from `listen` on; `heard` are the faults since asked."""

    def __init__(self) -> None:
        self._found: list[str] = []
        self._unheard = None

    def listen(self) -> None:
        """Begin, if the application has been imported by now and nobody listens yet."""
        module = sys.modules.get("service.app")
        if module is None or self._unheard is not None:
            return
        original = self._unheard = module.Application.finalize_request

        def finalize_request(app, rv, from_error_handler=False):
            from flask import request

            answer = original(app, rv, from_error_handler)
            try:
                self._found += answer_faults(request, answer)
            except Exception as error:  # noqa: BLE001 (here it would become an answer; it fails the test instead)
                self._found.append(f"{request.path}: {error!r}")
            return answer

        module.Application.finalize_request = finalize_request

    def heard(self) -> list[str]:
        """The faults since this was asked last."""
        found, self._found = self._found, []
        return list(dict.fromkeys(found))

    def end(self) -> None:
        """Stop listening."""
        if self._unheard is not None:
            sys.modules["service.app"].Application.finalize_request = self._unheard
