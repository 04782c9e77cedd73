"""A folder of trials judged in one call: several at a time, a line about each, none stopped by another."""

import json
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import click

from service.client.connection import Service, connect
from service.client.output import COLOURS, ENDINGS, REPORT_FORMS, colour, leave
from service.client.packages import JSON, MEDIA_TYPES, package_files
from service.client.trouble import Trouble, printable

TRIAL = "trial.json"
AT_ONCE = 4
GAP = "  "


@dataclass(frozen=True)
class FolderTrial:
    """One trial of a folder: what it is called, its files, and the trial document beside them."""

    name: str
    files: tuple[Path, ...]
    document: Path | None


@dataclass(frozen=True)
class Judged:
    """What came of a trial: its analysis document as it came, or what was in the way."""

    name: str
    document: bytes | None = None
    trouble: Trouble | None = None


@dataclass(frozen=True)
class Wish:
    """What is asked for each trial: the fields in the query, and the forms of the reports to leave."""

    query: Mapping[str, str]
    forms: Sequence[str]
    as_json: bool


def judge_folder(folder: Path, wish: Wish, *, server: str | None, create_app: Callable[..., Any]) -> None:
    """Judge every trial of the folder and print a line about each; reports are left beside the trials.

    Raises Trouble at the end where any of them failed, with what was in the way of each.
    """
    trials = trials_in(folder)
    width = max(len(printable(trial.name)) for trial in trials)
    troubles: list[str] = []
    with _service(server, create_app) as service, ThreadPoolExecutor(_at_once(server)) as threads:
        judge = partial(_judged, service, wish=wish, beside=folder)
        for judged in threads.map(judge, trials):
            click.echo(_json_line(judged)) if wish.as_json else say_row(judged, width)
            troubles += _lines_of(judged)
    if troubles:
        raise Trouble(*troubles)


def trials_in(folder: Path) -> list[FolderTrial]:
    """The trials of a folder by name: each sub-folder that holds tables or a trial, each JSON batch.

    Raises Trouble where there is none, and where two have one name.
    """
    found = [trial for path in sorted(folder.iterdir()) if (trial := _trial_at(path)) is not None]
    if not found:
        raise Trouble(
            f"There is no trial in {folder}: neither a .json batch nor a folder with {TRIAL} and a table."
        )
    names = [trial.name for trial in found]
    for name in names:
        if names.count(name) > 1:
            raise Trouble(f"Two trials in {folder} are called {name}. Rename the file or the folder.")
    return found


def report_forms(reports: Sequence[Path]) -> tuple[str, ...]:
    """The forms of the reports to leave beside the trials. Raises Trouble for anything but a form."""
    forms = tuple(REPORT_FORMS.values())
    for report in reports:
        if str(report) not in forms:
            raise Trouble(
                f"Reports on a folder are left beside its trials, so give a form: --report {forms[0]} "
                f"and not {report}. There are: {', '.join(forms)}."
            )
    return tuple(str(report) for report in reports)


def say_row(judged: Judged, width: int) -> None:
    """Print the line about a trial: its name, the outcome, the rounds done, and whom or what it names."""
    name = f"{printable(judged.name):<{width}}"
    if judged.document is None:
        click.echo(f"{name}{GAP}{click.style('failed', fg='red', bold=True)}", color=colour())
        return
    document = json.loads(judged.document)
    verdict = document["verdict"]
    outcome = f"{printable(verdict['outcome']):<{max(map(len, COLOURS))}}"
    styled = click.style(outcome, fg=COLOURS.get(verdict["outcome"]), bold=True)
    rounds = f"{verdict['rounds_done']:>3} {'round ' if verdict['rounds_done'] == 1 else 'rounds'}"
    click.echo(GAP.join([name, styled, rounds, printable(_named(document))]).rstrip(), color=colour())


def _named(document: Mapping[str, Any]) -> str:
    verdict = document["verdict"]
    labels: dict[str, str] = {element["id"]: element["label"] for element in document["elements"]}
    if verdict["winner"] is not None:
        return labels[verdict["winner"]]
    if verdict["outcome"] == "within noise":
        return ", ".join(labels[element] for element in verdict["leading"])
    return f"about {verdict['more_rounds']} more" if verdict["more_rounds"] else ""


def _lines_of(judged: Judged) -> list[str]:
    """What was in the way of a trial, under its name."""
    lines = judged.trouble.lines if judged.trouble is not None else ()
    return [f"{judged.name}: {line}" if place == 0 else line for place, line in enumerate(lines)]


def _json_line(judged: Judged) -> str:
    if judged.document is None:
        lines = judged.trouble.lines if judged.trouble else ()
        return json.dumps({"trial": judged.name, "error": list(lines)}, ensure_ascii=False)
    name = json.dumps(judged.name, ensure_ascii=False)
    return f'{{"trial": {name}, "analysis": {judged.document.decode()}}}'


def _judged(service: Service, trial: FolderTrial, *, wish: Wish, beside: Path) -> Judged:
    try:
        if not trial.files:
            raise Trouble(f"There is no table beside {TRIAL}.")
        package = package_files(trial.files, trial.document)
        document = service.verdict(package, wish.query)
        for form in wish.forms:
            leave(beside / f"{trial.name}{ENDINGS[form]}", service.verdict(package, wish.query, form=form))
    except Trouble as trouble:
        return Judged(trial.name, trouble=trouble)
    return Judged(trial.name, document)


def _trial_at(path: Path) -> FolderTrial | None:
    """The trial that a file or folder is, None for one that is none."""
    if path.is_file():
        return FolderTrial(path.stem, (path,), None) if _kind(path) == JSON else None
    document = path / TRIAL
    inside = [file for file in sorted(path.glob("*")) if file.is_file() and file != document]
    tables = tuple(file for file in inside if _kind(file) is not None)
    if not tables and not document.is_file():
        return None
    return FolderTrial(path.name, tables, document if document.is_file() else None)


def _kind(file: Path) -> str | None:
    return MEDIA_TYPES.get(file.suffix.lower())


def _at_once(server: str | None) -> int:
    return AT_ONCE if server is not None else max(AT_ONCE, os.cpu_count() or 1)


@contextmanager
def _service(server: str | None, create_app: Callable[..., Any]) -> Iterator[Service]:
    """The service at the URL, or one of this process with several workers, which end with it."""
    if server is not None:
        with connect(server, create_app) as service:
            yield service
        return
    application = create_app(in_parallel=True)
    try:
        with connect(None, lambda: application) as service:
            yield service
    finally:
        application.close()
