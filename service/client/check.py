"""`aerial-assay check`: may this new design ship? Its exit status answers a script."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.check_question import KEPT_OPTIONS, KeptTrials, question
from service.client.connection import connect
from service.client.options import FILE, SERVER, TRIAL_FIELDS, answer_options, field_options
from service.client.outcome import status_given
from service.client.output import working
from service.client.packages import Package
from service.client.patience import Wait

if TYPE_CHECKING:
    import httpx
    from flask import Flask

PATH = "/v1/design-checks"
STATUSES = {"holds": 0, "falls short": 1, "needs more runs": 2}
"""Exit statuses; 3 is bad input, no service, or no answer in time."""
FORMS = ("text", "json", "junit", "markdown", "html", "pdf")
EXAMPLE = """\b
Example:
  aerial-assay check readings.csv --unit bars --highest 10 --baseline old --candidate new"""
LONGEST_WAIT = 86_400  # a day, in seconds


@click.command(epilog=EXAMPLE, short_help="Check a new design against its baseline.")
@click.argument("files", metavar="[FILE...]", nargs=-1, type=FILE)
@click.option("--baseline", metavar="ELEMENT", help="What the candidates are held against.")
@click.option("--candidate", metavar="ELEMENT", multiple=True, help="A new design; may be repeated.")
@click.option(
    "--samples", metavar="ELEMENTS", multiple=True, help="Samples of one new design, commas between them."
)
@click.option("--baseline-trial", metavar="TRIAL", help="The kept trial of the baseline, by its id.")
@click.option("--baseline-name", metavar="NAME", help="The name that the baseline is kept under.")
@click.option("--candidate-trial", metavar="TRIAL", help="That of the candidates; by default the same.")
@field_options(TRIAL_FIELDS)
@click.option("--trial", metavar="FILE", type=FILE, help="The trial document (JSON) of a table.")
@answer_options(FORMS)
@click.option("--needs-more-runs-fails", is_flag=True, help="In junit: a failure, not skipped.")
@SERVER
@click.option(
    "--wait",
    metavar="SECONDS",
    type=click.IntRange(1, LONGEST_WAIT),
    help="Wait up to so long for a service that is busy or not up yet.",
)
@click.pass_context
def check(
    context: click.Context,
    /,
    *,
    files: Sequence[Path],
    trial: Path | None,
    form: str,
    output: Path | None,
    server: str | None,
    wait: int | None,
    **fields: Any,
) -> None:
    """Check whether candidates are no more than the margin worse than the baseline.

    FILE is a table of one trial, as for `verdict`, or a .json batch, which may name them itself. Instead of
    FILE, --baseline-trial (or --baseline-name) and --candidate-trial name kept trials: one, or two that are
    joined by an element that both hold (--reference).

    The exit status is 0 where all hold, 1 where one falls short, 2 where more runs are needed, and 3 where
    the input is bad or no service answers, in time where --wait says how long.
    """
    kept = KeptTrials(*(fields.pop(name) for name in KEPT_OPTIONS))
    given = {name: _told(value) for name, value in fields.items() if value} | {"form": form}
    package, query = question(files, trial, kept, fields=given)
    answer = _asked(context.obj, package, query, server=server, wait=wait)
    context.exit(status_given(answer, STATUSES, asked="check", form=form, output=output))


def _told(value: Any) -> Any:
    """As a parameter has it: a flag is "true"."""
    return "true" if value is True else value


def _asked(
    create_app: "Callable[[], Flask]",
    package: Package,
    query: dict[str, Any],
    *,
    server: str | None,
    wait: int | None,
) -> "httpx.Response":
    patience = None if wait is None else Wait(wait)
    with connect(server, create_app) as service, working("Checking"):
        request = package.request()
        return service.answer("POST", PATH, package=package, patience=patience, params=query, **request)
