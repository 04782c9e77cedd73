"""What went wrong, as a page: the same account that a route gives, in plain words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from flask import Response

from service.pages.answering import shown
from service.pages.joined import joined


@dataclass(frozen=True)
class Place:
    """One fault: where it is, what stands there, and what is allowed and to be done."""

    where: str
    given: str
    detail: str


@dataclass(frozen=True)
class Trouble:
    """An error in plain words; `places` are the faults of what was sent, `ids` what the log calls it."""

    title: str
    detail: str
    places: tuple[Place, ...] = ()
    ids: tuple[str, ...] = ()


IN_PLACE: Final[Mapping[int, str]] = {
    404: "There is nothing at this address: it is mistyped, it was removed, or it belongs to somebody else. "
    "The first page leads to all others.",
    413: "This is more than the server takes at once. A table that is pasted may have 1 MiB: save a larger "
    "one as a file and choose that. Go back in your browser: what you filled in is still there.",
}
"""What is said in place of the account for programs, by status."""


def error_page(error: Exception) -> Response:
    """An error as a page, with the status and the headers of the problem that a route would answer."""
    problem = joined().problem(error)
    told: Mapping[str, Any] = problem.get_json()
    trouble, status = trouble_of(told), problem.status_code
    template = "token_wanted.html" if status == 401 else "error.html"
    page = replace(trouble, detail=IN_PLACE.get(status, trouble.detail))
    answer = shown(template, page, title=page.title, status=status)
    for name, value in problem.headers:
        if name.lower() not in {"content-type", "content-length"}:
            answer.headers[name] = value
    return answer


def trouble_of(told: Mapping[str, Any]) -> Trouble:
    """A problem document in plain words."""
    places = tuple(place_of(fault) for fault in told.get("errors", ()))
    ids = (f"The service's log calls it {told['id']}.",) if "id" in told else ()
    return Trouble(str(told["title"]), str(told["detail"]), places, ids)


def place_of(fault: Mapping[str, Any]) -> Place:
    """One fault of a problem document."""
    if "row" in fault:
        where = f"Line {fault['row']}"
    else:
        where = (
            str(fault.get("parameter") or fault.get("pointer") or "").removeprefix("#/").replace("/", ", ")
        )
    if fault.get("column"):
        where = f"{where}, column {fault['column']}" if where else f"Column {fault['column']}"
    given = f"{fault['given']}" if "given" in fault else ""
    return Place(where or "The whole of it", given, str(fault["detail"]))
