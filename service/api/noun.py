"""A blueprint for one noun: each route is parsed, answered and described by one declaration."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from flask import Response
from flask_smorest import Blueprint

from service.api.problems import KINDS
from service.api.query import QueryParser
from service.api.schemas.query import NoQuerySchema

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
        forms: Sequence[tuple[str, Any]],
        problems: Sequence[int] = (),
        **described: Any,
    ) -> Callable[[View], View]:
        """Route `method` and `rule` to the view, which takes the parsed query and then the path's values.

        forms: media type and schema of each form of the answer. problems: the statuses of the problems it
        may answer beside 422 for the query. described: further members of the operation's description.
        """

        def declare(view: View) -> View:
            declared = view
            for media_type, schema in reversed(forms):
                declared = self.response(200, schema, content_type=media_type)(declared)
            for status in problems:
                declared = self.alt_response(status, KINDS[status].name)(declared)
            declared = self.arguments(query, location="query")(self.doc(**described)(declared))
            declared._apidoc["arguments"]["responses"] = {422: KINDS[422].name}
            self.add_url_rule(rule, view.__name__, declared, methods=[method])
            return view

        return declare
