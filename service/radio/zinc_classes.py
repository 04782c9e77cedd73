"""Classes of zinc coatings on wire: the least mass that a class promises at a diameter of the wire.

A class promises a least mass, never a most, so a thickness lies from there up. ASTM A641-09a, table 1, in
ounces a square foot from a diameter in inches on: by a poorly scanned copy, the 0.40 of class 1 partly from
memory; status secondary. EN 10244-2 and ISO 7989-2, class A, in g/m2 from a diameter in mm on; status memory.
The other classes of these two, and ASTM A475 (whose classes go by the single wire of a strand), are not known
here for certain and are refused.
"""

from dataclasses import dataclass
from itertools import takewhile
from typing import Final

from service.radio.lengths import MM_PER_INCH

GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2: Final = 28.349523125 / 0.3048**2
_CLASS_A: Final = (
    (1.85, 215.0),
    (2.15, 230.0),
    (2.5, 245.0),
    (2.8, 255.0),
    (3.2, 265.0),
    (3.8, 275.0),
    (4.4, 280.0),
    (5.2, 290.0),
)
_CLASS_A_ENDS: Final = 8.2
_ASTM_ENDS: Final = 0.25 * MM_PER_INCH
_JUST: Final = 1e-9
"""What a diameter that was given in inches may come out too small by."""


@dataclass(frozen=True)
class ZincClass:
    """A class by its name, with ascending steps (from this diameter in mm on, least g/m2) and their end."""

    name: str
    steps: tuple[tuple[float, float], ...]
    ends_mm: float
    source: str
    status: str

    def least_g_per_m2(self, diameter_mm: float) -> float | None:
        """The least mass on wire of that diameter; None where the steps known here do not go there."""
        under = list(takewhile(lambda step: step[0] <= diameter_mm + _JUST, self.steps))
        return under[-1][1] if under and diameter_mm <= self.ends_mm + _JUST else None

    @property
    def diameters(self) -> str:
        """The diameters it is known for, in words."""
        return f"{self.steps[0][0]:.2f} to {self.ends_mm:.2f} mm"


def _by_ounces(name: str, ounces: tuple[float, ...]) -> ZincClass:
    """A class of ASTM A641, its least masses from the diameters of the table on."""
    inches = (0.076, 0.099, 0.106, 0.148)
    steps = tuple(
        (inch * MM_PER_INCH, mass * GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2)
        for inch, mass in zip(inches, ounces, strict=True)
    )
    return ZincClass(name, steps, _ASTM_ENDS, *_ASTM)


_ASTM: Final = (
    "ASTM A641-09a, table 1, by a poorly scanned copy",
    "secondary; 0.40 oz/ft2 partly from memory, where the steps begin a judgement",
)
_EN: Final = ("EN 10244-2 and ISO 7989-2, class A", "memory")
CLASSES: Final = (
    _by_ounces("astm a641 class 1", (0.25, 0.28, 0.30, 0.40)),
    _by_ounces("astm a641 class 3", (0.70, 0.80, 0.80, 0.90)),
    ZincClass("en 10244-2 class a", _CLASS_A, _CLASS_A_ENDS, *_EN),
    ZincClass("iso 7989-2 class a", _CLASS_A, _CLASS_A_ENDS, *_EN),
)
REGULAR: Final = "astm a641 regular"
"""Covered with zinc, with no least mass."""


def zinc_class(name: str) -> ZincClass | None:
    """The class of that name, in small letters with single spaces; None for one that is not known."""
    return next((found for found in CLASSES if found.name == name), None)
