"""Elements and channels as people list them in a form: one a line, what is known of it behind commas."""

from collections.abc import Sequence
from typing import Any, Final

from service.pages.fields import number_in

ELEMENT: Final = ("id", "material", "form", "diameter", "length")
CHANNEL: Final = ("id", "rf_channel")
SIZES: Final = frozenset({"diameter", "length"})
"""Bare numbers are in millimetres; with its unit a size is taken as it is."""


def elements_in(text: str) -> list[dict[str, Any]]:
    """Entries of elements: name, material, form, diameter and length, as many of them as are given."""
    return [_entry(line, ELEMENT) for line in text.splitlines() if line.strip()]


def channels_in(text: str) -> list[dict[str, Any]]:
    """Entries of channels: name and RF channel."""
    return [_entry(line, CHANNEL) for line in text.splitlines() if line.strip()]


def _entry(line: str, names: Sequence[str]) -> dict[str, Any]:
    """The parts of a line by name; parts beyond the names stay with the last, so that they are refused."""
    parts = [part.strip() for part in line.split("\t" if "\t" in line else ",", len(names) - 1)]
    given = {name: part for name, part in zip(names, parts, strict=False) if part}
    return dict(_size(name, part) if name in SIZES else (name, part) for name, part in given.items())


def _size(name: str, text: str) -> tuple[str, Any]:
    number = number_in(text)
    return (name, text) if isinstance(number, str) else (f"{name}_mm", number)
