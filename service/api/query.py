"""Query parameters: every one known, none twice, each fault placed by its name."""

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, NoReturn

import marshmallow as ma
from flask import Request
from webargs.flaskparser import FlaskParser

from service.errors import BadInput, Fault


@dataclass(frozen=True)
class ParameterFault(Fault):
    """A fault of a query parameter."""

    parameter: str = ""

    def document(self) -> dict[str, object]:
        """The fault as it stands in a problem document."""
        return {"parameter": self.parameter} | super().document()


class QueryParser(FlaskParser):
    """Parses query parameters by a schema. Raises BadInput with every fault."""

    DEFAULT_UNKNOWN_BY_LOCATION = FlaskParser.DEFAULT_UNKNOWN_BY_LOCATION | {"query": ma.RAISE}

    def load_querystring(self, req: Request, schema: ma.Schema) -> Any:
        """The parameters. Raises BadInput where one is given more than once, with every other fault."""
        loaded = super().load_querystring(req, schema)
        several = {name for name, field in schema.fields.items() if getattr(field, "is_multiple", False)}
        twice = [name for name, values in req.args.lists() if len(values) > 1 and name not in several]
        if twice:
            detail = "This parameter is given more than once. Give it once."
            faults = [ParameterFault(detail, parameter=name) for name in twice]
            found = _faults(schema.validate(loaded), req.args, list(schema.fields))
            raise BadInput(faults + [fault for fault in found if fault.parameter not in twice])
        return loaded

    def handle_error(self, error: ma.ValidationError, req: Request, schema: ma.Schema, **_: Any) -> NoReturn:
        """Raise every fault that the schema found as BadInput."""
        raise BadInput(list(_faults(error.messages_dict["query"], req.args, list(schema.fields))))


def _faults(
    messages: Mapping[str, list[str]], given: Mapping[str, str], allowed: list[str]
) -> Iterator[ParameterFault]:
    for name, texts in messages.items():
        details = texts if name in allowed else [_unknown(name, allowed)]
        for detail in details:
            yield ParameterFault(detail, parameter=name, given=given.get(name))


def _unknown(name: str, allowed: list[str]) -> str:
    if not allowed:
        return "No query parameter is taken here."
    close = difflib.get_close_matches(name, allowed, n=3)
    meant = f" Did you mean {' or '.join(close)}?" if close else ""
    return f"No parameter of this name is known here.{meant} Allowed: {', '.join(allowed)}."
