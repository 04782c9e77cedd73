"""`aerial-assay verdict` and `aerial-assay demo`."""

import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.connection import Service, connect
from service.client.examples import examples_folder
from service.client.folders import TRIAL, Wish, judge_folder, report_forms
from service.client.options import FILE, LOCALE, SERVER, TRIAL_FIELDS, field_options
from service.client.output import check_report_files, leave, report_form, say, say_verdict, working
from service.client.packages import Package, package_files
from service.client.trouble import Trouble

if TYPE_CHECKING:
    from flask import Flask

VERDICT_EXAMPLE = """\b
Example:
  aerial-assay verdict readings.csv --unit bars --highest 10 --report verdict.pdf"""
DEMO_EXAMPLE = """\b
Example:
  aerial-assay demo"""


@click.command(epilog=VERDICT_EXAMPLE, short_help="Judge the readings in a file.")
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE)
@field_options(TRIAL_FIELDS)
@click.option("--trial", metavar="FILE", type=FILE, help="The trial document (JSON) of a table.")
@click.option(
    "--report",
    "reports",
    metavar="FILE",
    type=FILE,
    multiple=True,
    help="Leave a .html, .pdf, .md, .xml (JUnit), .csv (all tables), .txt (summary) or .png (card).",
)
@click.option("--paper", metavar="SIZE", help="Paper of the reports: a4 or letter; that of the locale.")
@LOCALE
@click.option("--shape", metavar="SHAPE", help="Shape of a .png: wide (default) or square.")
@click.option("--json", "as_json", is_flag=True, help="Print the analysis document and nothing else.")
@SERVER
@click.pass_obj
def verdict(
    create_app: "Callable[[], Flask]",
    /,
    *,
    files: Sequence[Path],
    trial: Path | None,
    reports: Sequence[Path],
    as_json: bool,
    server: str | None,
    **fields: str | None,
) -> None:
    """Judge the readings in FILE: a .csv, .tsv, .xlsx or .ndjson file, or a .json batch with its trial.

    Several tables with the same heading are one batch. Where FILE is a folder, every trial in it is judged:
    each .json batch, and each folder in it with trial.json and tables. With --report html, or any other form,
    a report on each is left beside it; --json prints one object a line.
    """
    query = {name: value for name, value in fields.items() if value is not None}
    if any(file.is_dir() for file in files):
        _judge_folder(create_app, files, trial, Wish(query, report_forms(reports), as_json), server=server)
        return
    check_report_files(reports, read=files)
    package = package_files(files, trial)
    with connect(server, create_app) as service:
        document = _judged(service, package, query)
        try:  # reports first: whoever reads what is printed may have enough of it before its end
            left = _leave_reports(service, package, query, reports)
        finally:
            if as_json:
                click.echo(document)
            else:
                say_verdict(json.loads(document))
    if left and not as_json:
        say(["", f"Report left in {' and '.join(left)}."])


@click.command(epilog=DEMO_EXAMPLE, short_help="Judge an invented trial that comes with the program.")
@click.pass_obj
def demo(create_app: "Callable[[], Flask]") -> None:
    """Judge an invented trial that comes with the program; leave demo.html and demo.pdf here."""
    reports = (Path("demo.html"), Path("demo.pdf"))
    check_report_files(reports)
    folder = examples_folder()
    trial = folder / "demo-trial.json"
    package = package_files([folder / "demo-readings.csv"], trial)
    with connect(None, create_app) as service:
        document = _judged(service, package, {})
        try:
            left = _leave_reports(service, package, {}, reports)
        finally:
            say(["An invented trial of this program's own, no measurement.", ""])
            say_verdict(json.loads(document))
        one_scan = package_files([folder / "demo-one-scan.csv"], trial)
        say(["", "The same trial after one scan only:"])
        say_verdict(json.loads(_judged(service, one_scan, {})))
    say(["", f"Report left in {' and '.join(left)}."])


def _judge_folder(
    create_app: "Callable[..., Flask]",
    files: Sequence[Path],
    trial: Path | None,
    wish: Wish,
    *,
    server: str | None,
) -> None:
    if len(files) > 1 or trial is not None:
        raise Trouble(f"A folder is judged by itself, with a {TRIAL} in each folder in it. Give it alone.")
    judge_folder(files[0], wish, server=server, create_app=create_app)


def _judged(service: Service, package: Package, query: Mapping[str, Any]) -> bytes:
    with working("Judging the readings"):
        return service.verdict(package, query)


def _leave_reports(
    service: Service, package: Package, query: Mapping[str, Any], files: Sequence[Path]
) -> list[str]:
    for file in files:
        with working(f"Making {file}"):
            report = service.verdict(package, query, form=report_form(file))
        leave(file, report)
    return [str(file) for file in files]
