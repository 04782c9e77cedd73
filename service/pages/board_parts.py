"""What a board says of a verdict: the outcome, its sentence, who stands where and who shares a place.

What is here is done where other work is done and travels there and back.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.locales import DEFAULT, LOCALES, spoken
from reports.view import ranking
from reports.wording import complete, unworded
from reports.wording.card import LEADS
from reports.wording.speech import Speech, speech_of

MOST_ROWS: Final = 8
"""Rows that can be read from across a room; the rest is counted."""


@dataclass(frozen=True)
class Standing:
    """A row of the board; `kind` is "winner" for a clear winner alone, else "plain"."""

    place: str
    name: str
    average: str
    says: str
    kind: str


@dataclass(frozen=True)
class Standings:
    """The table of a board: the heading of its averages, its rows, and how many do not stand in it."""

    average: str
    rows: tuple[Standing, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True)
class BoardParts:
    """A verdict on a board."""

    outcome: str
    statement: str
    table: Standings


def board_parts(document: Mapping[str, Any]) -> BoardParts:
    """The parts of a completed analysis document."""
    speech = speech_of(complete(document if spoken() is LOCALES[DEFAULT] else unworded(document)))
    entries = doc.ranked(speech.document)
    shared = Counter(entry["place"] for entry in entries)
    return BoardParts(
        outcome=speech.verdict["outcome"],
        statement=speech.verdict["statement"],
        table=Standings(
            average=f"average ({speech.unit.level})",
            rows=tuple(_standing(speech, entry, shared) for entry in entries[:MOST_ROWS]),
            left_out=tuple(_left_out(speech, len(entries) - MOST_ROWS)),
        ),
    )


def _standing(speech: Speech, entry: doc.Entry, shared: Counter[int | None]) -> Standing:
    says = ranking.in_short(speech, entry)
    place = entry["place"]
    together = "" if place is None or shared[place] == 1 else ", shared"
    return Standing(
        place="" if place is None else f"{place}{together}",
        name=speech.label(entry["id"]),
        average=ranking.score(speech, entry["score"]),
        says=LEADS[speech.verdict["outcome"]] if says == "leads" else says,
        kind="winner" if entry["id"] == speech.verdict["winner"] else "plain",
    )


def _left_out(speech: Speech, more: int) -> list[str]:
    controls = len(doc.controls(speech.document))
    told = [f"{numerals.count(more)} more behind these"] if more > 0 else []
    if controls:
        told.append(f"{numerals.number_of(controls, 'control', 'controls')} beside them, to test the test")
    return told
