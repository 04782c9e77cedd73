"""The heading of a table as people keep it in a spreadsheet: channel, then a column for each run."""

import re
from dataclasses import dataclass

from service.errors import Fault
from service.intake.headings import (
    LONG_HEADINGS,
    WIDE_HEADINGS,
    Heading,
    heading_fault,
    repeated_headings,
)
from service.intake.spellings import choice
from service.intake.spreadsheet_text import unquoted_text
from service.trial.texts import name_fault
from service.trial.trial_entries import HIGHEST_ROUND

ROUND = re.compile(r"[1-9]\d{0,3}", re.ASCII)
SPELT_ROUND = re.compile(r"(.*?)[\s,(]*\b(?:round|run)\s*(\d{1,4})\s*\)?", re.ASCII | re.IGNORECASE)


@dataclass(frozen=True)
class RunColumn:
    """A column of one run: its place among the columns, its heading, that without its unit, the element and
    the round it names.

    Where the heading is faulty the element may be None, and the round 1.
    """

    place: int
    heading: str
    name: str
    element: str | None
    round: int


def run_columns(heading: Heading, *, longest: int) -> tuple[list[RunColumn], list[Fault]]:
    """The columns of runs, and what keeps headings from naming one.

    Columns with a faulty heading are among them, so that their readings can be checked; not those whose
    heading is one of the long form or one that is not read.
    """
    faults = repeated_headings(heading)
    columns: list[RunColumn] = []
    sound: list[RunColumn] = []
    for place, name in enumerate(heading.names):
        if name in WIDE_HEADINGS:
            continue
        aside = _aside(heading, place)
        if aside is not None:
            faults.append(heading_fault(heading, place, aside))
            continue
        column, detail = _run_column(place, heading.given[place], name, longest=longest)
        if detail:
            faults.append(heading_fault(heading, place, detail))
        else:
            sound.append(column)
        columns.append(column)
    if not columns:
        detail = (
            "There is no column of readings. Add one for each run, headed element@round, such as brass-3@1."
        )
        faults.append(Fault(detail, row=heading.row, given=", ".join(heading.given)[:80]))
    return columns, faults + _repeated_runs(heading, sound)


def _run_column(place: int, given: str, name: str, *, longest: int) -> tuple[RunColumn, str]:
    """The run that a heading names, and what is wrong with it (empty: nothing)."""
    element, sign, label = name.rpartition("@")
    element, label = (element.strip(), label.strip()) if sign else (name, "1")
    reason = name_fault(unquoted_text(element), longest)
    number = int(label) if ROUND.fullmatch(label) else None
    column = RunColumn(place, given, name, None if reason else unquoted_text(element), number or 1)
    if number is None:
        return column, f"Behind @ stands the round, a whole number from 1 to {HIGHEST_ROUND}: brass-3@2."
    if reason:
        return column, f"The element in this heading {reason}."
    spelt = None if sign else SPELT_ROUND.fullmatch(name)
    return column, "" if spelt is None else _spelt(spelt[1].strip(), spelt[2])


def _spelt(element: str, number: str) -> str:
    wanted = f"{element or 'brass-3'}@{number}"
    return f"A run is headed element@round: write {wanted}, or put @1 behind what is the name of an element."


def _aside(heading: Heading, place: int) -> str | None:
    """Why a heading of the long form, or one that is not read, names no run."""
    name, given = heading.names[place], heading.given[place]
    if name in LONG_HEADINGS:
        return (
            f"{given} is a heading of the long form. Wide: channel, rf_channel, then element@round, "
            f"{given}@1 for an element of that name."
        )
    meant = choice(name)
    return None if meant is None else f"{meant} Where it is an element, write {given}@1."


def _repeated_runs(heading: Heading, columns: list[RunColumn]) -> list[Fault]:
    faults = []
    seen: dict[tuple[str | None, int], str] = {}
    for column in columns:
        first = seen.setdefault((column.element, column.round), column.heading)
        if first != column.heading:
            detail = f"This is the same run as the column {first}. A bare element stands for round 1."
            faults.append(heading_fault(heading, column.place, detail))
    return faults
