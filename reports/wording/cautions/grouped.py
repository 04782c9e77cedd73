"""Groups as one phrase: told apart by semicolons where each is a list itself; runs by their elements."""

from itertools import groupby
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording.speech import Speech, listed

MOST_GROUPS: Final = 4


def grouped(groups: list[str]) -> str:
    """The first groups, the rest counted: "A and B; C; and 2 more"."""
    shown, more = "; ".join(groups[:MOST_GROUPS]), len(groups) - MOST_GROUPS
    return (
        shown if more <= 0 else say("{groups}; and {number} more", groups=shown, number=numerals.count(more))
    )


def runs_by_element(speech: Speech, runs: list[doc.Entry]) -> str:
    """Runs as words, gathered by element: "brass in rounds 2 and 5, bronze in round 3"."""
    ordered = sorted(runs, key=lambda run: list(speech.labels).index(run["element"]))
    return listed(
        [
            _of_one(speech, element, list(group))
            for element, group in groupby(ordered, lambda run: run["element"])
        ]
    )


def _of_one(speech: Speech, element: str, runs: list[doc.Entry]) -> str:
    numbers = sorted(run["round"] for run in runs)
    return say_number(
        "{element} in round {rounds}",
        "{element} in rounds {rounds}",
        len(numbers),
        element=speech.name(element),
        rounds=listed(numbers),
    )
