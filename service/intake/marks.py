"""Texts that stand in the place of a value: scanned and nothing found, or not scanned."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from service.errors import BadInput, Fault

ALWAYS_NOTHING_FOUND = ("none", "no signal")
ALWAYS_NOT_SCANNED = ("not scanned",)


@dataclass(frozen=True)
class Marks:
    """The marks that a batch names beside those that are always understood; capitals do not count.

    `lost` and `unscanned` are all marks of each kind as `folded` makes them. Raises BadInput for a mark that
    would mean both.
    """

    nothing_found: tuple[str, ...] = ()
    not_scanned: tuple[str, ...] = ()
    lost: frozenset[str] = field(init=False)
    unscanned: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "lost", _all_folded((*ALWAYS_NOTHING_FOUND, *self.nothing_found)))
        object.__setattr__(self, "unscanned", _all_folded((*ALWAYS_NOT_SCANNED, *self.not_scanned)))
        detail = "This mark cannot mean both nothing found and not scanned; name it for one of them."
        both = sorted(self.lost & self.unscanned)
        named = _all_folded(self.not_scanned)
        places = ("#/not_scanned" if mark in named else "#/nothing_found" for mark in both)
        faults = [Fault(detail, pointer=place, given=mark) for place, mark in zip(places, both, strict=True)]
        if faults:
            raise BadInput(faults)


def folded(text: str) -> str:
    """The text as marks are compared: without spaces around it, capitals made small."""
    return text.strip().casefold()


def _all_folded(marks: Iterable[str]) -> frozenset[str]:
    return frozenset(folded(mark) for mark in marks if mark.strip())
