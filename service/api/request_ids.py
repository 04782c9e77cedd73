"""The id of a request: the caller's own if it is one, else made here; it goes back with the answer."""

import re
import secrets

from flask import g, request

HEADER = "X-Request-Id"
SANE = re.compile(r"[A-Za-z0-9._-]{1,64}")


def name_request() -> None:
    """Give the present request its id."""
    given = request.headers.get(HEADER, "")
    g.request_id = given if SANE.fullmatch(given) else secrets.token_hex(16)


def request_id() -> str | None:
    """The id of the present request, None before it has one."""
    found: str | None = g.get("request_id")
    return found
