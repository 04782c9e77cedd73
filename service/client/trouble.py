"""What a command says when it cannot do what was asked: on standard error, place by place, exit status 3."""

import json
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import IO, Any, Final

import click

EXIT_STATUS = 3
ANSWER_LIMIT = 200
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
    places = [f"  {_place(error, place_of_row, called)}: {_said(error)}" for error in errors]
    more = problem.get("count", 0) - len(places)
    if more > 0:
        places.append(f"  and {more} more")
    known = f" (id {problem['id']})" if "id" in problem else ""
    return Trouble(f"{problem['title']}{known}. {problem['detail']}", *places)


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


def _said(error: Mapping[str, Any]) -> str:
    if "given" not in error:
        return str(error["detail"])
    given = json.dumps(error["given"], ensure_ascii=False)
    shown = given if len(given) <= ANSWER_LIMIT else given[:ANSWER_LIMIT] + "..."
    return f"given {shown}: {error['detail']}"
