"""Coatings as people write them ("zinc", "zinc 20 um", "zinc 275 g/m2", "enamel"), and their thickness.

A mass per area becomes a thickness by the density: g/m2 / 7.14 um for zinc (7140 kg/m3; ISO 1461 divides by
7.2). Zinc of which nothing is said lies from none to 85 um: wire of the regular class has no least mass in
ASTM A641-09a, and 85 um is the thickest mean of ISO 1461:2009 table 3. Status of all: secondary.
"""

import math
import re
from dataclasses import dataclass
from typing import Final

from service.radio.between import Between, exactly
from service.radio.conductors import COATED, Material, material, plain_name

ZINC_KG_PER_M3: Final = 7140.0
GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2: Final = 28.349523125 / 0.3048**2
THICKEST_UM: Final = 85.0
NOTHING: Final = ("none", "bare", "uncoated")
INSULATING: Final = ("enamel", "lacquer", "varnish", "paint", "pvc", "plastic", "polyethylene")
METALS: Final = ("zinc", "tin", "silver", "copper", "nickel", "gold")
_WRITTEN = re.compile(r"([a-z ]+?)(?:\s+(\d+(?:\.\d+)?)\s*(um|µm|μm|g/m2|g/m²|oz/ft2|oz/ft²))?")


@dataclass(frozen=True)
class Coating:
    """A metal coating; `thickness_um` from none on where nobody stated it."""

    material: Material
    thickness_um: Between


def coating_words() -> str:
    """What may be written as a coating, in words."""
    return (
        f"one of {', '.join(METALS)}, with its thickness where it is known (zinc 20 um, zinc 275 g/m2); "
        f"{', '.join(INSULATING)}; or none"
    )


def readable(text: str) -> bool:
    """Whether a coating is understood."""
    name, amount, unit = _parts(text)
    if name in (*NOTHING, *INSULATING):
        return amount is None
    return name in METALS and (unit in (None, "um") or name == "zinc")


def coating(of: str, stated: str | None) -> Coating | None:
    """The metal coating of the material named `of`, by its name or as `stated`; None where there is none.

    `stated` must be readable. It wins over the name, so that "zinc-coated steel" can be given its thickness.
    """
    implied = COATED.get(plain_name(of))
    name, amount, unit = _parts(stated if stated is not None else implied[1] if implied else "none")
    metal = material(name) if name in METALS else None
    if metal is None:
        return None
    thickness = Between(0.0, THICKEST_UM) if amount is None else exactly(_micrometres(amount, unit))
    return Coating(metal, thickness)


def _micrometres(amount: float, unit: str | None) -> float:
    if unit == "um":
        return amount
    grams = amount * (GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2 if unit == "oz/ft2" else 1.0)
    return grams / ZINC_KG_PER_M3 * 1e3


def _parts(text: str) -> tuple[str, float | None, str | None]:
    """Name, amount and unit of a coating as written; an empty name where it cannot be read."""
    found = _WRITTEN.fullmatch(plain_name(text))
    if found is None or (found[2] is not None and not math.isfinite(float(found[2]))):
        return "", None, None
    unit = found[3] and found[3].replace("µ", "u").replace("μ", "u").replace("²", "2")
    return found[1].strip(), None if found[2] is None else float(found[2]), unit
