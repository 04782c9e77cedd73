"""`aerial-assay check`: may this new design ship? Its exit status answers a script."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.connection import connect
from service.client.options import trial_options
from service.client.output import leave, say, working
from service.client.packages import Package, package_files
from service.client.trouble import Trouble, printable

if TYPE_CHECKING:
    import httpx
    from flask import Flask

PATH = "/v1/design-checks"
OUTCOME = "X-Outcome"
STATUSES = {"holds": 0, "falls short": 1, "needs more runs": 2}
"""Exit statuses; 3 is bad input, no service, or no answer in time."""
FORMS = ("text", "json", "junit", "markdown", "html", "pdf")
EXAMPLE = """\b
Example:
  aerial-assay check readings.csv --unit bars --highest 10 --baseline old --candidate new"""
FILE = click.Path(path_type=Path)


@click.command(epilog=EXAMPLE, short_help="Check a new design against its baseline.")
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE)
@click.option("--baseline", metavar="ELEMENT", help="What the candidates are held against.")
@click.option("--candidate", metavar="ELEMENT", multiple=True, help="A new design; may be repeated.")
@click.option(
    "--samples", metavar="ELEMENTS", multiple=True, help="Samples of one new design, commas between them."
)
@trial_options
@click.option("--trial", metavar="FILE", type=FILE, help="The trial document (JSON) of a table.")
@click.option("--form", metavar="FORM", default="text", help=f"What is printed: {', '.join(FORMS)}.")
@click.option("--output", metavar="FILE", type=FILE, help="Leave it there instead of printing it.")
@click.option("--paper", metavar="SIZE", help="Paper of html and pdf: a4 (default) or letter.")
@click.option("--needs-more-runs-fails", is_flag=True, help="In junit: a failure, not skipped.")
@click.option("--server", metavar="URL", help="Ask the service there; without it, work here.")
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
    needs_more_runs_fails: bool,
    **fields: Any,
) -> None:
    """Check whether candidates are no more than the margin worse than the baseline, by readings of one trial.

    FILE is a table, as for `verdict`, or a .json batch, which may name them itself.

    The exit status is 0 where all hold, 1 where one falls short, 2 where more runs are needed, and 3 where
    the input is bad or no service answers.
    """
    if form not in FORMS:
        raise Trouble(f"There is no form {form!r}; there are {', '.join(FORMS)}.")
    query = {name: value for name, value in fields.items() if value} | {"form": form}
    if needs_more_runs_fails:
        query["needs_more_runs_fails"] = "true"
    answer = _asked(context.obj, package_files(files, trial), query, server=server)
    status = STATUSES.get(answer.headers.get(OUTCOME, ""))
    if status is None:
        raise Trouble("What answers there does not say what came of the check.")
    _give(answer.content, form, output)
    context.exit(status)


def _asked(
    create_app: "Callable[[], Flask]", package: Package, query: dict[str, Any], *, server: str | None
) -> "httpx.Response":
    with connect(server, create_app) as service, working("Checking"):
        return service.answer("POST", PATH, package=package, params=query, **package.request())


def _give(content: bytes, form: str, output: Path | None) -> None:
    if output is not None:
        leave(output, content)
        click.echo(f"Left in {printable(str(output))}.", err=True)
    elif form == "text":
        say(content.decode("utf-8").splitlines())
    else:
        click.echo(content, nl=not content.endswith(b"\n"))
