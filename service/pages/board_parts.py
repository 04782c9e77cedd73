"""What a board says of a verdict: the outcome, its sentence, who stands where and who shares a place.

What is here is done where other work is done and travels there and back.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.view import ranking
from reports.wording import worded
from reports.wording.speech import Speech, speech_of
from reports.wording.vocabulary import OUTCOMES

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
    """A verdict on a board; `settled` where it asks for no more runs."""

    settled: bool
    outcome: str
    statement: str
    table: Standings


def board_parts(document: Mapping[str, Any]) -> BoardParts:
    """The parts of a completed analysis document."""
    speech = speech_of(worded(document))
    entries = doc.ranked(speech.document)
    shared = Counter(entry["place"] for entry in entries)
    return BoardParts(
        settled=speech.verdict["outcome"] != doc.MORE,
        outcome=say(OUTCOMES[speech.verdict["outcome"]]),
        statement=speech.verdict["statement"],
        table=Standings(
            average=say("average ({unit})", unit=speech.unit.level),
            rows=tuple(_standing(speech, entry, shared) for entry in entries[:MOST_ROWS]),
            left_out=tuple(_left_out(speech, len(entries) - MOST_ROWS)),
        ),
    )


def _standing(speech: Speech, entry: doc.Entry, shared: Counter[int | None]) -> Standing:
    place = entry["place"]
    together = place is not None and shared[place] > 1
    return Standing(
        place=say("{place}, shared", place=place) if together else str(place or ""),
        name=speech.label(entry["id"]),
        average=ranking.score(speech, entry["score"]),
        says=ranking.as_the_verdict_has_it(speech, entry),
        kind="winner" if entry["id"] == speech.verdict["winner"] else "plain",
    )


def _left_out(speech: Speech, more: int) -> list[str]:
    controls = len(doc.controls(speech.document))
    told = [_more(more)] if more > 0 else []
    if controls:
        number = numerals.number_of(controls, "control", "controls")
        told.append(say("{controls} beside them, to test the test", controls=number))
    return told


def _more(number: int) -> str:
    return say_number(
        "{number} more behind these", "{number} more behind these", number, number=numerals.count(number)
    )
