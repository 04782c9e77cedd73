"""Places in a list that is answered in pages: opaque texts, each good for the question it came from alone."""

import base64
import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from flask import Response

from service.api.query import ParameterFault
from service.api.strict_json import json_answer
from service.errors import BadInput

_DIGITS = 16
_MOST = 2**31 - 1
"""The largest number that every database takes for a place."""


@dataclass(frozen=True)
class Listed:
    """A list of what is kept, the newest first: its member in the answer, its path, and whose it is.

    `asked` tells the list from others, so that a cursor of one is none of another; `a_page` is how many make
    a page where the query does not say.
    """

    name: str
    path: str
    asked: Mapping[str, Any]
    a_page: int

    def answer(
        self,
        query: Mapping[str, Any],
        fetch: Callable[[tuple[str, str] | None, int], Sequence[Mapping[str, Any]]],
    ) -> Response:
        """The page that the query asks for, with the way to the next.

        `fetch` answers so many entries, each with `created_at` and `id`, behind the one of these two. Raises
        BadInput for a cursor that is not of this list.
        """
        limit = query.get("limit", self.a_page)
        question = {"list": self.name, **self.asked, "limit": limit}
        place = place_of(query.get("cursor"), question, (str, str))
        found = fetch(None if place is None else (place[0], place[1]), limit + 1)
        page, more = found[:limit], len(found) > limit
        cursor = cursor_text(question, [page[-1]["created_at"], page[-1]["id"]]) if more else None
        following = next_page(self.path, {"limit": limit} if "limit" in query else {}, cursor)
        return linked(json_answer({self.name: page, "next": following}), following)


def cursor_text(question: Mapping[str, Any], place: list[Any]) -> str:
    """The cursor of a place in the answer to a question."""
    content = json.dumps([place, _digest(question, place)], separators=(",", ":"))
    return base64.urlsafe_b64encode(content.encode()).decode().rstrip("=")


def place_of(cursor: str | None, question: Mapping[str, Any], kinds: tuple[type, ...]) -> list[Any] | None:
    """The place that a cursor tells, None without one; `kinds` are its steps, text or number.

    Raises BadInput for a cursor that is none, or that came from another question. That a cursor fits its
    question says nothing of who made it: there is no secret in it.
    """
    if cursor is None:
        return None
    try:
        content = base64.b64decode(cursor + "=" * (-len(cursor) % 4), altchars=b"-_", validate=True)
        place, digest = json.loads(content)
        if digest == _digest(question, place) and _is_place(place, kinds):
            return list(place)
    except (ValueError, TypeError, RecursionError):
        pass
    detail = "This is no cursor of this list and these parameters. Follow `next`, or leave the cursor out."
    raise BadInput([ParameterFault(detail, parameter="cursor", given=cursor[:80])])


def _is_place(place: object, kinds: tuple[type, ...]) -> bool:
    return (
        isinstance(place, list)
        and tuple(map(type, place)) == kinds
        and all(
            step.isascii() and step.isprintable() if isinstance(step, str) else 0 <= step <= _MOST
            for step in place
        )
    )


def next_page(path: str, query: Mapping[str, Any], cursor: str | None) -> str | None:
    """Path and query of the next page, None where there is none."""
    if cursor is None:
        return None
    return f"{path}?{urlencode({**query, 'cursor': cursor})}"


def linked(response: Response, following: str | None) -> Response:
    """The answer with a link to the next page (RFC 8288)."""
    if following is not None:
        response.headers["Link"] = f'<{following}>; rel="next"'
    return response


def _digest(question: Mapping[str, Any], place: list[Any]) -> str:
    text = json.dumps([sorted(question.items()), place], ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]
