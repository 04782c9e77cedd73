"""A quantity known only to lie between two ends, or known exactly where both are one."""

from collections.abc import Iterable
from dataclasses import dataclass

CLOSE = 0.01
"""Ends that lie within this share of the larger one are told as one number."""


@dataclass(frozen=True)
class Between:
    """From `low` to `high`, both included."""

    low: float
    high: float

    @property
    def value(self) -> float | None:
        """The quantity where it is known; None where only its ends are, so that no bare number misleads."""
        if self.low == self.high:
            return self.low
        size = max(abs(self.low), abs(self.high))
        return (self.low + self.high) / 2 if self.high - self.low <= CLOSE * size else None

    def times(self, least: float, most: float | None = None) -> "Between":
        """The quantity times a factor above 0 that is known, or lies from `least` to `most`."""
        return Between(self.low * least, self.high * (least if most is None else most))

    def document(self) -> dict[str, float]:
        """The ends, JSON-ready."""
        return {"low": self.low, "high": self.high}


def exactly(value: float) -> Between:
    """A quantity that is known."""
    return Between(value, value)


def spanning(values: Iterable[float]) -> Between:
    """The smallest span that holds all values."""
    held = list(values)
    return Between(min(held), max(held))
