"""Who is told of work done, to count it."""

from collections.abc import Mapping
from typing import Any, Protocol


class Observer(Protocol):
    """Counts work."""

    def analysed(self, outcome: str) -> None:
        """A verdict was reached; `outcome` is one of the three."""

    def taken_in(self, rows: int) -> None:
        """A batch of so many rows was read."""

    def delivered(self, result: str) -> None:
        """The webhook was told, or not: `result` is "sent", "put off" or "given up"."""


class Unobserved:
    """Counts nothing."""

    def analysed(self, outcome: str) -> None:
        """Nothing."""

    def taken_in(self, rows: int) -> None:
        """Nothing."""

    def delivered(self, result: str) -> None:
        """Nothing."""


def tell_of(observer: Observer, document: Mapping[str, Any]) -> None:
    """Tell of an analysis document that was made of a batch just read."""
    observer.taken_in(document["read_as"]["rows"])
    observer.analysed(document["verdict"]["outcome"])
