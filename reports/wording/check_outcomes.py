"""What a design check can come to, and how a reader is told."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_number

HOLDS, SHORT = "holds", "falls short"
OUTCOMES: Final[Mapping[str, str]] = {
    HOLDS: marked("holds"),
    SHORT: marked("falls short"),
    doc.MORE: marked("needs more runs"),
}
"""`say`d where they are shown."""

_COUNTED: Final[Mapping[str, Callable[[int], str]]] = {
    HOLDS: lambda number: say_number(
        "{number} holds", "{number} hold", number, number=numerals.count(number)
    ),
    SHORT: lambda number: say_number(
        "{number} falls short", "{number} fall short", number, number=numerals.count(number)
    ),
    doc.MORE: lambda number: say_number(
        "{number} needs more runs", "{number} need more runs", number, number=numerals.count(number)
    ),
}


def of_several(outcomes: Sequence[str]) -> str:
    """How many of several candidates came to what."""
    counts = {one: outcomes.count(one) for one in outcomes}
    parts = ", ".join(_COUNTED[one](number) for one, number in counts.items())
    return say("Of {number} candidates: {outcomes}.", number=numerals.count(len(outcomes)), outcomes=parts)
