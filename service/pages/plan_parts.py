"""A plan as a page shows it: how much there is to do, in which order, and what it can tell."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Final

from reports import numerals
from reports.document import labels
from reports.language import marked, say
from reports.plans.model import Told
from reports.plans.view import told
from reports.view.model import Table
from reports.view.tables import table
from reports.wording.speech import speech_of

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
class PlanParts(Told):
    """A plan on a page."""

    tables: tuple[Table, ...]


def plan_parts(document: Mapping[str, Any]) -> PlanParts:
    """The parts of a completed plan document."""
    tables = tuple(one for one in (_order(document), _chances(document)) if one.rows)
    return PlanParts(**vars(told(speech_of(document))), tables=tables)


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
