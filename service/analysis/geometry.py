"""Which elements differ in more than their metal."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Protocol

from service.radio.coatings import coating, readable
from service.radio.conductors import material, plain_name
from service.trial.element_conductor import round_diameter_mm
from service.trial.trial import Element, Trial

MOST_DIAMETER = 0.05
MOST_LENGTH = 0.005
EXACT = 1e-9


class Compared(Protocol):
    """Elements that are compared, or are to be."""

    @property
    def trial(self) -> Trial:
        """The trial."""

    @property
    def competing_ids(self) -> tuple[str, ...]:
        """The ids of the elements that compete."""

    def element(self, name: str) -> Element:
        """The element of that id."""


@dataclass(frozen=True)
class Shapes:
    """Two elements said to differ in material: how far their diameters and lengths differ, as shares.

    None where one of them is not known.
    """

    first: str
    second: str
    diameter: float | None
    length: float | None

    @property
    def diameter_differs(self) -> bool:
        """Whether the diameters differ by more than is forgiven."""
        return self.diameter is not None and self.diameter > MOST_DIAMETER + EXACT

    @property
    def length_differs(self) -> bool:
        """Whether the lengths differ by more than is forgiven."""
        return self.length is not None and self.length > MOST_LENGTH + EXACT


def shapes(facts: Compared) -> Iterator[Shapes]:
    """Every two that compete and are said to differ in material; none where no elements are compared."""
    if facts.trial.compares != "element":
        return
    for first, second in combinations(map(facts.element, facts.competing_ids), 2):
        if _differ_in_material(first, second):
            yield Shapes(
                first.id,
                second.id,
                diameter=_share(round_diameter_mm(first), round_diameter_mm(second)),
                length=_share(first.length_mm, second.length_mm),
            )


def _differ_in_material(first: Element, second: Element) -> bool:
    if first.material is None or second.material is None:
        return False
    return _metal(first) != _metal(second)


def _metal(element: Element) -> tuple[str, str | None]:
    """What it is made of and coated with, by the names of the tables where they know it."""
    name = element.material or ""
    known = material(name)
    stated = element.coating if element.coating is not None and readable(element.coating) else None
    coat = coating(name, stated)
    return known.name if known else plain_name(name), coat.material.name if coat else None


def _share(first: float | None, second: float | None) -> float | None:
    """How much more the larger is than the smaller, as a share of the smaller."""
    return None if first is None or second is None else max(first, second) / min(first, second) - 1
