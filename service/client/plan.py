"""`aerial-assay plan`: what to run, in which order, and what it can detect."""

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.connection import Service, connect
from service.client.options import FILE, LOCALE, SERVER, TRIAL_FIELDS, field_options, option_of
from service.client.output import leave, say, working
from service.client.packages import JSON, Package, bytes_of, package_files
from service.client.trouble import Trouble, printable

if TYPE_CHECKING:
    from flask import Flask

PATH = "/v1/plans"
ID_LETTERS = frozenset("0123456789abcdef")
ID_LENGTH = 32
METER = frozenset({"unit", "lowest", "highest", "resolution", "needed", "impedance_ohm"})
TEXTS = frozenset({"unit", "looks", "reference", "region", "compares", "title"})
OF_READINGS = ("nothing_found", "not_scanned")
SHEETS = {"sheet": (".pdf", ".html"), "workbook": (".xlsx", ".csv")}
EXAMPLE = """\b
Example:
  aerial-assay plan --trial trial.json --minutes-per-run 6 --minutes-available 180 --sheet sheet.pdf"""
QUESTION = (
    ("minutes_per_run", "MINUTES", "From one scan to the next, all included."),
    ("minutes_available", "MINUTES", "How much time there is."),
    ("minutes_per_mounting", "MINUTES", "Added to each run, where it was counted apart."),
    ("chance", "NUMBER", "With which a difference is to be seen; 0.8 by default."),
    (
        "worthwhile_difference",
        "NUMBER",
        "The lead that is to be seen, in meter units; the margin by default.",
    ),
)
CALLED = {f"#/{name}": option_of(name) for name, _, _ in QUESTION} | {"#/continues": "--continues"}
"""What the places of the question are on the command line."""


@click.command(epilog=EXAMPLE, short_help="Plan a trial: order, rounds, what they can detect.")
@click.option("--trial", metavar="FILE", type=FILE, help="The trial document (JSON).")
@click.option("--continues", metavar="WHAT", help="Readings so far: a table, or the id of a kept trial.")
@field_options((*QUESTION, *TRIAL_FIELDS))
@click.option("--sheet", metavar="FILE", type=FILE, help="Leave the run sheet there: .pdf or .html.")
@click.option("--workbook", metavar="FILE", type=FILE, help="Leave the table to fill in: .xlsx or .csv.")
@click.option("--paper", metavar="SIZE", help="Paper of the sheet: a4 or letter; that of the locale.")
@LOCALE
@click.option("--json", "as_json", is_flag=True, help="Print the plan document and nothing else.")
@SERVER
@click.pass_obj
def plan(
    create_app: "Callable[[], Flask]",
    /,
    *,
    trial: Path | None,
    continues: str | None,
    paper: str | None,
    locale: str | None,
    as_json: bool,
    server: str | None,
    **given: Any,
) -> None:
    """Plan a trial: in which order to run, how many rounds there is time for, and what they can detect.

    The elements and channels stand in the trial document, or in the readings so far that --continues names;
    then only the rounds that are missing are planned. The workbook, once filled in, is judged as it is:
    `aerial-assay verdict fill.xlsx --trial trial.json`.
    """
    files = _sheets({name: given.pop(name) for name in SHEETS})
    query = {name: given.pop(name) for name in OF_READINGS} | {"paper": paper, "locale": locale}
    question, file = _question(trial, continues, {name: text for name, text in given.items() if text})
    asking = _Asking(question, file, {name: text for name, text in query.items() if text is not None})
    with connect(server, create_app) as service:
        answer = asking.answer(service, "json" if as_json else "text")
        if as_json:
            click.echo(answer)
        else:
            say(answer.decode("utf-8").splitlines())
        for path in files:
            leave(path, asking.answer(service, path.suffix.lower().removeprefix(".")))
    if files and not as_json:
        say(["", f"Left in {' and '.join(str(path) for path in files)}."])


class _Asking:
    """A question, asked in one form after another."""

    def __init__(self, question: Mapping[str, Any], file: Package | None, query: Mapping[str, str]):
        self._query = query
        body = json.dumps(question).encode()
        if file is None:
            self._package = Package(body, JSON, called=CALLED)
            self._sent = self._package.request()
        else:
            self._package = replace(file, called=CALLED)
            readings = ("readings", file.body, file.media_type)
            self._sent = {"files": {"readings": readings, "plan": ("plan.json", body, JSON)}}

    def answer(self, service: Service, form: str) -> bytes:
        """The plan in that form. Raises Trouble with the places of a problem."""
        with working("Planning"):
            params = {"form": form, **self._query}
            return service.answer("POST", PATH, package=self._package, params=params, **self._sent).content


def _sheets(files: Mapping[str, Path | None]) -> list[Path]:
    """The files to be left. Raises Trouble where one could not be made or put, before any work is done."""
    found = []
    for name, file in files.items():
        if file is None:
            continue
        if file.suffix.lower() not in SHEETS[name]:
            raise Trouble(
                f"--{name} {file}: what it is to be is told by its ending, {' or '.join(SHEETS[name])}."
            )
        if not file.absolute().parent.is_dir():
            raise Trouble(f"There is no folder {file.absolute().parent} to put {file.name} in.")
        found.append(file)
    return found


def _question(
    trial: Path | None, continues: str | None, fields: Mapping[str, str]
) -> tuple[dict[str, Any], Package | None]:
    """What is asked, and the table of readings so far."""
    names = {name for name, _, _ in QUESTION}
    question: dict[str, Any] = {name: _value(name, fields[name]) for name in fields if name in names}
    of_trial = {name: text for name, text in fields.items() if name not in names}
    if continues is not None and not Path(continues).exists() and _is_id(continues):
        if trial is not None or of_trial:
            raise Trouble("A kept trial has its own document. Leave --trial and its fields out.")
        return question | {"continues": continues}, None
    file = None if continues is None else package_files([Path(continues)], None)
    if file is not None and file.media_type == JSON:
        raise Trouble(f"{continues} may hold a trial of its own. Give the readings as a table.")
    return question | {"trial": _trial(trial, of_trial)}, file


def _trial(file: Path | None, fields: Mapping[str, str]) -> object:
    """The trial document, with the fields that were given beside it."""
    document = {} if file is None else _read(file)
    if not isinstance(document, dict):
        return document
    meter = document.get("meter", {})
    for name, text in fields.items():
        target = meter if name in METER and isinstance(meter, dict) else document
        if name in target:
            raise Trouble(f"{file} says {name} itself. Leave {option_of(name)} out.")
        target[name] = _value(name, text)
    return document | ({"meter": meter} if meter else {})


def _read(file: Path) -> object:
    try:
        return json.loads(bytes_of(file))
    except ValueError as error:
        raise Trouble(f"{printable(str(file))} is no JSON: {error}.") from error


def _value(name: str, text: str) -> object:
    """A number where one is wanted and given; whatever else was given is for the service to judge."""
    if name in TEXTS:
        return text
    for number in (int, float):
        try:
            return number(text)
        except ValueError:
            continue
    return text


def _is_id(text: str) -> bool:
    return len(text) == ID_LENGTH and set(text) <= ID_LETTERS
