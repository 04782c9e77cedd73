"""Options that several commands take, the trial's fields among them: named as in its document, with hyphens.

What is given is sent as it is; the service judges it, so that it says the same to every caller.
"""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from service.client.trouble import Trouble

Command = TypeVar("Command", bound=Callable[..., Any])
FILE = click.Path(path_type=Path)
SERVER = click.option("--server", metavar="URL", help="Ask the service there; without it, work here.")
SERVER_OF_KEPT = click.option(
    "--server", metavar="URL", help="Ask the service there; without it, the database of this machine."
)
PAPER = "Paper of html and pdf: a4 or letter; that of the locale."
LOCALE = click.option("--locale", metavar="PLACE", help="Numbers and dates: en-GB, en-US or en-DE.")

TRIAL_FIELDS = (
    ("unit", "UNIT", "Unit of the readings: bars, percent, dB, dBuV, dBmV or dBm."),
    ("lowest", "NUMBER", "Lowest end of the scale."),
    ("highest", "NUMBER", "Highest end of the scale."),
    ("resolution", "NUMBER", "Smallest step that the meter shows."),
    ("needed", "NUMBER", "Level in dB at which reception fails."),
    ("impedance_ohm", "NUMBER", "Impedance of the meter's input; joins dBm to dBuV and dBmV."),
    ("margin", "NUMBER", "Smallest difference you would act on, in meter units."),
    ("confidence", "NUMBER", "From 0.80 to 0.99; 0.95 by default."),
    ("planned_rounds", "COUNT", "Rounds planned before the trial began; 6 by default."),
    ("looks", "WHEN", "'every round' or 'planned end'."),
    ("reference", "ELEMENT", "The element that is run in every round and never touched."),
    ("region", "REGION", "Region of the channel plan."),
    ("compares", "WHAT", "What differs: element, height, aim, site, cable, transformer or joint."),
    ("title", "TEXT", "Title of the trial."),
    ("seed", "NUMBER", "Seed of the random draws; 1 by default."),
    ("nothing_found", "MARKS", "Marks that mean 'scanned, nothing found', commas between them: -,n/a."),
    ("not_scanned", "MARKS", "Marks that mean 'not scanned', commas between them."),
)


def field_options(fields: Sequence[tuple[str, str, str]]) -> Callable[[Command], Command]:
    """Give a command one option for each (name, metavar, help), None where it is not given."""

    def with_options(command: Command) -> Command:
        for name, metavar, told in reversed(fields):
            command = click.option(option_of(name), name, metavar=metavar, help=told)(command)
        return command

    return with_options


def answer_options(forms: Sequence[str]) -> Callable[[Command], Command]:
    """Give a command what says how its answer is made and where it goes; `forms` are those it can have.

    The command raises Trouble for another form.
    """

    def known(_context: click.Context, _option: click.Parameter, form: str) -> str:
        if form not in forms:
            raise Trouble(f"There is no form {form!r}; there are {', '.join(forms)}.")
        return form

    printed = f"What is printed: {', '.join(forms)}."
    options = (
        click.option("--form", metavar="FORM", default="text", callback=known, help=printed),
        click.option("--output", metavar="FILE", type=FILE, help="Leave it there instead of printing it."),
        click.option("--paper", metavar="SIZE", help=PAPER),
        LOCALE,
    )

    def with_options(command: Command) -> Command:
        for option in reversed(options):
            command = option(command)
        return command

    return with_options


def option_of(name: str) -> str:
    """The option that gives a field or parameter of that name."""
    return f"--{name.replace('_', '-')}"
