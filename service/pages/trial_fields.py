"""The fields of the forms that spell a trial out: the meter, the plan, what is compared."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from reports.language import marked
from service.errors import Fault
from service.pages.fields import (
    Choice,
    Hidden,
    Input,
    Values,
    choice,
    chosen,
    filled,
    number_in,
    number_input,
    said_choice,
    said_input,
)
from service.trial.trial import COMPARES, LOOKS, REGIONS

METER: Final = ("unit", "lowest", "highest", "resolution", "needed", "impedance_ohm")
MARKS: Final = ("nothing_found", "not_scanned")
TEXTS: Final = ("title", "looks", "reference", "region", "compares", "taken_by", "site", "unit")
NUMBERS: Final = (
    *("lowest", "highest", "resolution", "needed", "impedance_ohm"),
    *("margin", "confidence", "planned_rounds"),
)
_REGION_NAMES: Final[Mapping[str, str]] = {
    "north_america": marked("North America"),
    "europe": marked("Europe"),
    "australia": marked("Australia"),
    "japan": marked("Japan"),
}
_COMPARED: Final[Mapping[str, str]] = {
    "element": marked("element"),
    "height": marked("height"),
    "aim": marked("aim"),
    "site": marked("site"),
    "cable": marked("cable"),
    "transformer": marked("transformer"),
    "joint": marked("joint"),
}

UNIT: Final = choice(
    "unit",
    marked("The meter shows"),
    [
        ("", marked("choose one")),
        ("bars", marked("bars, or steps of a scale")),
        ("percent", marked("percent")),
        ("dB", marked("dB (quality: SNR or MER)")),
        ("dBuV", marked("dBµV (level)")),
        ("dBmV", marked("dBmV (level)")),
        ("dBm", marked("dBm (level)")),
    ],
)
FIRST: Final = (
    number_input(
        "highest",
        marked("Full scale"),
        marked("For bars: how many there are when all are lit. Leave it empty for dB."),
    ),
    Input("title", marked("What to call this trial"), marked("It stands on top of the report.")),
)
PLAN: Final = (
    number_input(
        "margin",
        marked("Smallest difference you would act on"),
        marked("In the unit of the meter. Empty: a usual one."),
    ),
    number_input(
        "planned_rounds", marked("Rounds you planned"), marked("Fixed before the first reading. Empty: 6.")
    ),
    number_input("confidence", marked("Confidence"), marked("From 0.80 to 0.99. Empty: 0.95.")),
    Input(
        "reference",
        marked("The one that is never touched"),
        marked("Its name in the table, if you ran one in every round."),
    ),
)
SCALE: Final = (
    number_input("lowest", marked("Lowest the meter shows"), marked("Empty: 0 for bars and percent.")),
    number_input(
        "resolution",
        marked("Smallest step"),
        marked("Empty: 1 for bars and percent, else told from the readings."),
    ),
    number_input("needed", marked("Level at which reception fails"), marked("For dB units only.")),
    number_input(
        "impedance_ohm", marked("Impedance of the input, in ohm"), marked("Joins dBm to dBµV and dBmV.")
    ),
)
TABLE_MARKS: Final = (
    Input(
        "nothing_found",
        marked("Marks for “scanned, nothing found”"),
        marked("Such as -, with a comma between several."),
    ),
    Input(
        "not_scanned", marked("Marks for “not scanned”"), marked("Such as x, with a comma between several.")
    ),
)
LOOK_CHOICE: Final = choice(
    "looks",
    marked("You will look"),
    [(LOOKS[0], marked("after every round")), (LOOKS[1], marked("once, at the planned end"))],
)
COMPARES_CHOICE: Final = choice(
    "compares", marked("What differs between them"), [(name, _COMPARED[name]) for name in COMPARES]
)
REGION_CHOICE: Final = choice(
    "region",
    marked("Channel plan of"),
    [("", marked("no region: bands are not told")), *((name, _REGION_NAMES[name]) for name in REGIONS)],
)
WHO: Final = (
    Input("taken_by", marked("Who took the readings"), marked("Printed in the report.")),
    Input("site", marked("Kind of site"), marked("Such as: indoors, upper floor. Never an exact place.")),
)
_ALL: Final = (*METER, *NUMBERS, *TEXTS, *MARKS)
NAMES: Final = tuple(dict.fromkeys(_ALL))
"""The names of all these fields."""

Faults = Mapping[str, Sequence[str]]
"""What is wrong, by the name of the field."""


def trial_of(values: Values) -> dict[str, Any]:
    """The trial document of what was filled in; a number that is none stays text, to be refused as one."""
    given = {name: values[name].strip() for name in NAMES if values.get(name, "").strip()}
    known = {name: number_in(text) if name in NUMBERS else text for name, text in given.items()}
    meter = {name: known[name] for name in METER if name in known}
    rest = {name: value for name, value in known.items() if name not in (*METER, *MARKS)}
    return {"meter": meter} | rest


def marks_of(values: Values) -> dict[str, tuple[str, ...]]:
    """The marks that the form names, by field."""
    split = {name: [mark.strip() for mark in values.get(name, "").split(",")] for name in MARKS}
    return {name: tuple(mark for mark in marks if mark) for name, marks in split.items()}


def field_of(fault: Fault, more: Sequence[str] = ()) -> str | None:
    """The name of the field, one of these or of `more`, that a fault means; None where it means another."""
    if fault.row is not None or fault.pointer is None or fault.pointer.startswith("#/readings"):
        return None
    last = fault.pointer.rpartition("/")[2]
    return last if last in NAMES or last in more else None


def by_field(faults: Sequence[Fault], more: Sequence[str] = ()) -> Faults:
    """What is wrong with each field."""
    found: dict[str, list[str]] = {}
    for fault in faults:
        name = field_of(fault, more)
        if name is not None:
            found.setdefault(name, []).append(fault.detail)
    return found


def inputs(entries: Sequence[Input], values: Values, faults: Faults) -> tuple[Input, ...]:
    """These constants as they were sent, in the spoken language."""
    return tuple(filled(said_input(entry), values, faults) for entry in entries)


def choices(entries: Sequence[Choice], values: Values, faults: Faults) -> tuple[Choice, ...]:
    """These constants as they were sent, in the spoken language."""
    return tuple(chosen(said_choice(entry), values, faults) for entry in entries)


def carried_fields(values: Values) -> tuple[Hidden, ...]:
    """What was filled in, for a form that carries it along."""
    return tuple(Hidden(name, values[name]) for name in NAMES if values.get(name, "").strip())
