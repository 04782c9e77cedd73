"""The form of a report that a page was asked for."""

from collections.abc import Mapping
from json import dumps
from typing import Any

from flask import Response

from reports.language import say
from service.errors import NotAcceptable
from service.pages.joined import joined


def refuse_unknown(form: str, forms: Mapping[str, str]) -> None:
    """Raise NotAcceptable, naming the forms there are, for one that is not among them."""
    if form not in forms:
        known = ", ".join(forms)
        raise NotAcceptable(
            say("There is no form {form} here. There are: {forms}.", form=repr(form[:40]), forms=known)
        )


def json_file(document: Mapping[str, Any], forms: Mapping[str, str], *, named: str) -> Response:
    """A document as a file to keep."""
    content = dumps(document, ensure_ascii=False, allow_nan=False).encode()
    return joined().report(content, "json", forms, named=named)
