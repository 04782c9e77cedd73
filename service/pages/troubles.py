"""What went wrong, as a page: the same account that a route gives, in plain words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from flask import Response

from reports.language import marked, say
from service.pages.answering import shown
from service.pages.joined import joined
from service.pages.speaking import in_the_locale


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
    404: marked(
        "There is nothing at this address: it is mistyped, it was removed, or it belongs to somebody else. "
        "The first page leads to all others."
    ),
    413: marked(
        "This is more than the server takes at once. A table that is pasted may have 1 MiB: save a larger "
        "one as a file and choose that. Go back in your browser: what you filled in is still there."
    ),
}
"""What is said in place of the account for programs, by status."""
TITLES: Final[Mapping[int, str]] = {
    400: marked("The request could not be read"),
    401: marked("A token is wanted"),
    403: marked("Not allowed"),
    404: marked("Not found"),
    405: marked("Method not allowed"),
    406: marked("No such form"),
    409: marked("Not possible just now"),
    412: marked("It has changed since"),
    413: marked("Over a limit"),
    415: marked("Media type not read here"),
    422: marked("The input has faults"),
    428: marked("Name the version"),
    429: marked("Too many requests"),
    431: marked("Header too large"),
    500: marked("A fault of our own"),
    501: marked("Not done here"),
    503: marked("Not able to answer just now"),
    507: marked("No room to keep it"),
}
"""The titles that programs are told, for people, by status."""


@in_the_locale
def error_page(error: Exception) -> Response:
    """An error as a page, with the status and the headers of the problem that a route would answer."""
    problem = joined().problem(error)
    told: Mapping[str, Any] = problem.get_json()
    trouble, status = trouble_of(told), problem.status_code
    template = "token_wanted.html" if status == 401 else "error.html"
    page = replace(trouble, detail=say(IN_PLACE[status])) if status in IN_PLACE else trouble
    answer = shown(template, page, title=page.title, status=status)
    for name, value in problem.headers:
        if name.lower() not in {"content-type", "content-length"}:
            answer.headers[name] = value
    return answer


def trouble_of(told: Mapping[str, Any]) -> Trouble:
    """A problem document in plain words."""
    places = tuple(place_of(fault) for fault in told.get("errors", ()))
    ids = (say("The service's log calls it {id}.", id=told["id"]),) if "id" in told else ()
    title = TITLES.get(int(told["status"]))
    return Trouble(say(title) if title else str(told["title"]), str(told["detail"]), places, ids)


def place_of(fault: Mapping[str, Any]) -> Place:
    """One fault of a problem document."""
    pointer = str(fault.get("parameter") or fault.get("pointer") or "").removeprefix("#/").replace("/", ", ")
    column = fault.get("column")
    if "row" in fault or not pointer:
        where = line_and_column(fault.get("row"), column)
    else:
        where = say("{place}, column {column}", place=pointer, column=column) if column else pointer
    return Place(where, str(fault["given"]) if "given" in fault else "", str(fault["detail"]))


def line_and_column(row: int | None, column: str | None) -> str:
    """A place in a table in words, of which either part may be unknown."""
    if row is not None and column:
        return say("Line {number}, column {column}", number=row, column=column)
    if row is not None:
        return say("Line {number}", number=row)
    return say("Column {column}", column=column) if column else say("The whole of it")
