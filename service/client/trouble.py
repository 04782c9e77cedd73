"""What a command says when it cannot do what was asked: on standard error, place by place, exit status 3."""

import json
import re
import shlex
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import IO, Any, Final

import click

EXIT_STATUS = 3
ANSWER_LIMIT = 200
ONE_LINE = 60
"""Signs up to which a sentence is said again where the place before has the same."""
MARK: Final = re.compile(r"\b(nothing_found|not_scanned)=(.+?)(?=\. If it means|\.$)")
"""A query parameter that a fault names as the remedy, and the mark in it."""
LIST_OF_TRIALS: Final = ("GET /v1/trials lists", "`aerial-assay trial list` lists")
"""A remedy for a program, and for who types commands."""
NOTHING_CALLED: Final[Mapping[str, str]] = MappingProxyType({})


class Trouble(click.ClickException):
    """The command ends here; `lines` say why, one place a line."""

    exit_code = EXIT_STATUS

    def __init__(self, *lines: str):
        super().__init__(lines[0])
        self.lines = lines

    def show(self, file: IO[Any] | None = None) -> None:
        """Print the lines on standard error."""
        for line in self.lines:
            click.echo(printable(line), file=file, err=True)


def problem_trouble(
    problem: Mapping[str, Any],
    place_of_row: Callable[[int], str],
    *,
    called: Mapping[str, str] = NOTHING_CALLED,
) -> Trouble:
    """The problem document as Trouble.

    `place_of_row` names the file and line of a row of the table sent; `called` is what the user calls a place
    of the body, by its JSON pointer.
    """
    errors = problem.get("errors", [])
    details = _with_options([str(error["detail"]) for error in errors])
    places = [
        f"  {_place(error, place_of_row, called)}: {_said(error, detail)}"
        for error, detail in zip(errors, details, strict=True)
    ]
    more = problem.get("count", 0) - len(places)
    if more > 0:
        places.append(f"  and {more} more")
    known = f" (id {problem['id']})" if "id" in problem else ""
    detail = str(problem["detail"]).replace(*LIST_OF_TRIALS)
    return Trouble(f"{problem['title']}{known}. {detail}", *places)


def printable(text: str) -> str:
    """The text without control characters, which could steer a terminal."""
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)


def _place(error: Mapping[str, Any], place_of_row: Callable[[int], str], called: Mapping[str, str]) -> str:
    pointer = error.get("pointer", "")
    parts: Sequence[str] = [
        f"--{error['parameter'].replace('_', '-')}" if "parameter" in error else "",
        place_of_row(error["row"]) if "row" in error else "",
        f"column {error['column']}" if "column" in error else "",
        next((word for place, word in called.items() if f"{pointer}/".startswith(f"{place}/")), pointer),
    ]
    return ", ".join(part for part in parts if part) or "input"


def _with_options(details: Sequence[str]) -> list[str]:
    """The remedies as options of the commands; a long one that stands one line above is not said again."""
    told = [MARK.sub(lambda found: _option(found[1], found[2]), detail) for detail in details]
    return [
        "as above" if detail == above and len(detail) > ONE_LINE else detail
        for detail, above in zip(told, ["", *told], strict=False)
    ]


def _option(name: str, mark: str) -> str:
    return f"--{name.replace('_', '-')}={shlex.quote(mark)}"


def _said(error: Mapping[str, Any], detail: str) -> str:
    if "given" not in error:
        return detail
    given = json.dumps(error["given"], ensure_ascii=False)
    shown = given if len(given) <= ANSWER_LIMIT else given[:ANSWER_LIMIT] + "..."
    return f"given {shown}: {detail}"
