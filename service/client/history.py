"""`aerial-assay history`: does a design creep over the trials that are kept?"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from service.client.connection import connect
from service.client.options import SERVER_OF_KEPT, answer_options
from service.client.outcome import status_given
from service.client.output import working
from service.client.packages import JSON, Package

PATH = "/v1/design-histories"
STATUSES = {"no creep beyond the margin": 0, "creeps": 1, "needs more trials": 2}
"""Exit statuses; 3 is bad input, no service, or no answer in time."""
FORMS = ("text", "json", "markdown", "html", "pdf")
EXAMPLE = """\b
Example:
  aerial-assay history --element whip --reference brass-3 3f0c... 9a41... c7d2..."""
CALLED = {"#/trials": "TRIAL"} | {
    f"#/{name}": f"--{name}" for name in ("element", "reference", "margin", "confidence")
}
"""What the places of the question are on the command line."""


@click.command(epilog=EXAMPLE, short_help="Follow a design over trials: does it creep?")
@click.argument("trials", metavar="TRIAL...", nargs=-1, required=True)
@click.option("--element", metavar="ELEMENT", required=True, help="The element that is followed.")
@click.option("--reference", metavar="ELEMENT", required=True, help="What every trial holds too.")
@click.option("--margin", metavar="NUMBER", type=float, help="Smallest change to act on; else the trials'.")
@click.option("--confidence", metavar="NUMBER", type=float, help="From 0.80 to 0.99; else the trials'.")
@answer_options(FORMS)
@SERVER_OF_KEPT
@click.pass_context
def history(
    context: click.Context,
    /,
    *,
    trials: Sequence[str],
    form: str,
    output: Path | None,
    paper: str | None,
    locale: str | None,
    server: str | None,
    **question: Any,
) -> None:
    """Follow an element over the dates of kept TRIALs, each time through the reference: does it creep?

    `aerial-assay trial list` prints the ids. The exit status is 0 where it does not creep beyond the margin,
    1 where it creeps, 2 where more trials are needed, and 3 where the input is bad or no service answers.
    """
    asked = {name: value for name, value in question.items() if value is not None} | {"trials": list(trials)}
    wish = {"form": form, "paper": paper, "locale": locale}
    query = {name: value for name, value in wish.items() if value is not None}
    package = Package(json.dumps(asked).encode(), JSON, called=CALLED)
    with connect(server, context.obj) as service, working("Following"):
        answer = service.answer("POST", PATH, package=package, params=query, **package.request())
    context.exit(status_given(answer, STATUSES, asked="history", form=form, output=output))
