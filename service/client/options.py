"""The trial's fields as options: the same names as in the trial document, with hyphens.

They are sent as they are given; the service judges them, so that it says the same to every caller.
"""

from collections.abc import Callable
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])

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


def trial_options(command: Command) -> Command:
    """Give the command one option for each scalar field of the trial, None where it is not given."""
    for name, metavar, told in reversed(TRIAL_FIELDS):
        option = f"--{name.replace('_', '-')}"
        command = click.option(option, name, metavar=metavar, help=told)(command)
    return command
