"""A blueprint for one noun: each route is parsed, answered and described by one declaration."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from flask import Response
from flask_smorest import Blueprint

from service.api.problems import KINDS
from service.api.query import QueryParser
from service.api.schemas.query import NoQuerySchema


@dataclass(frozen=True)
class Answers:
    """The statuses of answers that are no problems, and what each header that they carry means.

    Those of BODILESS have no body. links: what can be done next, by the name of the view that does it: the
    parameters to send, as runtime expressions of OpenAPI.
    """

    statuses: tuple[int, ...] = (200,)
    headers: Mapping[str, str] = field(default_factory=dict)
    links: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


WITH_200 = Answers()
BODILESS = frozenset({204, 304})
NAMED = {"Content-Disposition": "A name for the file, where the answer is one."}
OF_EVERY_REQUEST = (400, 500)
OF_EVERY_CHANGE = (403, 415)
"""The problems that the guard may find before any view runs (`service.api.guards`)."""
OPEN = "open"
STORED = (500, 503)
"""The problems of whatever reads or writes what is kept."""
SCHEME = "token"
View = TypeVar("View", bound=Callable[..., Response])


class Noun(Blueprint):  # type: ignore[misc] # the library has no types
    """The routes of one noun."""

    ARGUMENTS_PARSER = QueryParser()

    def operation(
        self,
        rule: str,
        *,
        method: str = "GET",
        query: type = NoQuerySchema,
        forms: Sequence[tuple[str, Any]] = (),
        answers: Answers = WITH_200,
        problems: Sequence[int] = (),
        may: str | None = None,
        **described: Any,
    ) -> Callable[[View], View]:
        """Route `method` and `rule` to the view, which takes the parsed query and then the path's values.

        forms: media type and schema of each form of the answer; none where it has no body.
        answers: the statuses of what is no problem, each in every form, and the headers.
        problems: the statuses of the problems it may answer beside 422 for the query, those of access and
        those of the guard.
        may: the scope that a token must hold, by default read for GET and write for all other methods; OPEN
        for a route that wants no token.
        described: further members of the operation's description.
        """

        scope = may or ("read" if method == "GET" else "write")
        secured = [] if scope == OPEN else [{SCHEME: [scope]}, {}]
        of_access = () if scope == OPEN else (401, 403, 429, 503)

        def declare(view: View) -> View:
            view.may = scope  # type: ignore[attr-defined] # read by the guard, see `service.api.admission`
            declared = self._answered(view, answers, forms)
            of_guard = OF_EVERY_REQUEST if method == "GET" else OF_EVERY_REQUEST + OF_EVERY_CHANGE
            for status in dict.fromkeys((*problems, *of_guard, *of_access)):
                declared = self.alt_response(status, KINDS[status].name)(declared)
            declared = self.arguments(query, location="query")(
                self.doc(security=secured, operationId=view.__name__, **described)(declared)
            )
            declared._apidoc["arguments"]["responses"] = {422: KINDS[422].name}
            self.add_url_rule(rule, view.__name__, declared, methods=[method])
            return view

        return declare

    def _answered(
        self, view: Callable[..., Response], answers: Answers, forms: Sequence[tuple[str, Any]]
    ) -> Any:
        """The view with its answers described; it makes them itself."""
        headers = {
            name: {"description": text, "schema": {"type": "string"}}
            for name, text in answers.headers.items()
        }
        declared: Any = view
        for status in answers.statuses:
            with_body = [] if status in BODILESS else list(reversed(forms))
            for media_type, schema in with_body or [(None, None)]:
                described = self.alt_response(
                    status, schema=schema, content_type=media_type, headers=headers or None, success=True
                )
                declared = described(declared)
            if answers.links and with_body:
                declared = self.doc(responses={status: {"links": _links(answers.links)}})(declared)
        return declared


def _links(links: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    return {name: {"operationId": name, "parameters": dict(sent)} for name, sent in links.items()}
