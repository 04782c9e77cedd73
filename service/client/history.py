"""`aerial-assay history`: does a design creep over the trials that are kept?"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from service.client.connection import connect
from service.client.outcome import status_given
from service.client.output import working
from service.client.trouble import Trouble

PATH = "/v1/design-histories"
STATUSES = {"no creep beyond the margin": 0, "creeps": 1, "needs more trials": 2}
"""Exit statuses; 3 is bad input, no service, or no answer in time."""
FORMS = ("text", "json", "markdown", "html", "pdf")
EXAMPLE = """\b
Example:
  aerial-assay history --element whip --reference brass-3 3f0c... 9a41... c7d2..."""
FILE = click.Path(path_type=Path)
SERVER = "Ask the service there; without it, the database of this machine."


@click.command(epilog=EXAMPLE, short_help="Follow a design over trials: does it creep?")
@click.argument("trials", metavar="TRIAL...", nargs=-1, required=True)
@click.option("--element", metavar="ELEMENT", required=True, help="The element that is followed.")
@click.option("--reference", metavar="ELEMENT", required=True, help="What every trial holds too.")
@click.option("--margin", metavar="NUMBER", type=float, help="Smallest change to act on; else the trials'.")
@click.option("--confidence", metavar="NUMBER", type=float, help="From 0.80 to 0.99; else the trials'.")
@click.option("--form", metavar="FORM", default="text", help=f"What is printed: {', '.join(FORMS)}.")
@click.option("--output", metavar="FILE", type=FILE, help="Leave it there instead of printing it.")
@click.option("--paper", metavar="SIZE", help="Paper of html and pdf: a4 or letter; that of the locale.")
@click.option("--locale", metavar="PLACE", help="Numbers and dates: en-GB, en-US or en-DE.")
@click.option("--server", metavar="URL", help=SERVER)
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
    if form not in FORMS:
        raise Trouble(f"There is no form {form!r}; there are {', '.join(FORMS)}.")
    asked = {name: value for name, value in question.items() if value is not None} | {"trials": list(trials)}
    query = {"form": form, "paper": paper, "locale": locale}
    with connect(server, context.obj) as service, working("Following"):
        answer = service.answer(
            "POST",
            PATH,
            params={name: value for name, value in query.items() if value is not None},
            content=json.dumps(asked).encode(),
            headers={"Content-Type": "application/json"},
        )
    context.exit(status_given(answer, STATUSES, asked="history", form=form, output=output))
