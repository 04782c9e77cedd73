"""A plan as a page shows it: how much there is to do, in which order, and what it can tell."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Final

from reports import numerals
from reports.document import labels
from reports.language import marked, say
from reports.plans.view import Item, Sheet, sheet_view
from reports.view.model import Note, Table
from reports.view.tables import table

MOST_ROUNDS: Final = 40
MOST_CHANCES: Final = 9
"""Rounds of which the chance is told; of more, those at even steps."""
UNITS: Final[Mapping[str, str]] = {
    "bars": marked("bars"),
    "percent": marked("percent"),
    "run-to-run sd": marked("run-to-run sd"),
}
"""Units of a difference that are words; the others are symbols."""


@dataclass(frozen=True)
class PlanParts:
    """A plan on a page."""

    title: str
    statement: str
    tables: tuple[Table, ...]
    filling: tuple[str, ...]
    telling: tuple[str, ...]
    shorter: tuple[str, ...]
    items: tuple[Item, ...]
    notes: tuple[Note, ...]
    safety: tuple[str, ...]


def plan_parts(document: Mapping[str, Any]) -> PlanParts:
    """The parts of a completed plan document."""
    sheet: Sheet = sheet_view(document)
    return PlanParts(
        title=sheet.title,
        statement=sheet.statement,
        tables=tuple(one for one in (_order(document), _chances(document)) if one.rows),
        filling=sheet.filling,
        telling=sheet.telling,
        shorter=sheet.shorter,
        items=sheet.items,
        notes=sheet.notes,
        safety=sheet.safety,
    )


def _order(document: Mapping[str, Any]) -> Table:
    names = labels(document)
    rows = [
        [say("round {number}", number=number), *(names[run["element"]] for run in runs)]
        for number, runs in groupby(document["order"], key=lambda run: run["round"])
    ]
    runs = [(say("run {number}", number=place), "words") for place in range(1, len(document["elements"]) + 1)]
    caption = say("What to put on, round by round (order drawn with seed {seed})", seed=document["seed"])
    return table(caption, [(say("round"), "name"), *runs], rows, most=MOST_ROUNDS, kind="stacked")


def _chances(document: Mapping[str, Any]) -> Table:
    entries = document["power"]
    numbers = [entry["round"] for entry in entries[0]["by_round"]] if entries else []
    step = -(-len(numbers) // MOST_CHANCES) if numbers else 1
    shown = numbers[::-1][::step][::-1]
    rows = [
        [
            numerals.plain(entry["difference"]),
            *(numerals.fixed(100 * one["chance"], 0) for one in entry["by_round"] if one["round"] in shown),
        ]
        for entry in entries
    ]
    unit = document["difference_unit"]
    unit = say(UNITS[unit]) if unit in UNITS else unit
    after = [(say("after round {number}", number=number), "number") for number in shown]
    headings = [(say("ahead by, in {unit}", unit=unit), "name"), *after]
    caption = say("In how many of 100 trials a best one that is so far ahead is named")
    return table(caption, headings, rows, most=MOST_ROUNDS)
