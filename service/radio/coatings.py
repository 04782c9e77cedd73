"""Coatings as people write them ("zinc", "zinc 20 um", "zinc 275 g/m2", "astm a641 class 3", "enamel").

A mass per area becomes a thickness by the density: g/m2 / 7.14 um for zinc (7140 kg/m3; ISO 1461 divides by
7.2). Zinc of which nothing is said lies from none to 85 um: wire of the regular class has no least mass in
ASTM A641-09a, and 85 um is the thickest mean of ISO 1461:2009 table 3. A class (`zinc_classes`) promises a
least mass, so its zinc lies from there to 85 um. Status of all that is not in a class: secondary.
"""

import math
import re
from dataclasses import dataclass, field
from typing import Final

from service.radio.between import Between, exactly
from service.radio.conductors import COATED, MATERIALS, Material, material, plain_name
from service.radio.zinc_classes import (
    CLASSES,
    GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2,
    REGULAR,
    ZincClass,
    zinc_class,
)

ZINC_KG_PER_M3: Final = 7140.0
THICKEST_UM: Final = 85.0
NOT_SAID: Final = (
    "not said: no least mass in ASTM A641-09a (regular), thickest mean of ISO 1461:2009 table 3",
    "secondary",
)
NO_THICKNESS: Final = (f"not said: taken as none to {THICKEST_UM:g} um, as of zinc", "a judgement")
AS_STATED: Final = ("as stated; a mass by the density of the metal", "stated")
NOTHING: Final = ("none", "bare", "uncoated")
INSULATING: Final = ("enamel", "lacquer", "varnish", "paint", "pvc", "plastic", "polyethylene")
METALS: Final = ("zinc", "tin", "silver", "copper", "nickel", "gold")
_ZINC: Final = next(metal for metal in MATERIALS if metal.name == "zinc")
_WRITTEN = re.compile(r"([a-z ]+?)(?:\s+(\d+(?:\.\d+)?)\s*(um|µm|μm|g/m2|g/m²|oz/ft2|oz/ft²))?")


@dataclass(frozen=True)
class Coating:
    """A metal coating; `thickness_um` from none on where nobody stated it."""

    material: Material
    thickness_um: Between
    source: str = field(default=AS_STATED[0], compare=False)
    status: str = field(default=AS_STATED[1], compare=False)

    def document(self) -> dict[str, object]:
        """The coating, JSON-ready."""
        return {
            "name": self.material.name,
            "thickness_um": self.thickness_um.document(),
            "source": self.source,
            "status": self.status,
        }


def coating_words() -> str:
    """What may be written as a coating, in words."""
    return (
        f"one of {', '.join(METALS)}, with its thickness where it is known (zinc 20 um, zinc 275 g/m2); "
        f"a class of zinc ({', '.join([REGULAR, *(known.name for known in CLASSES)])}); "
        f"{', '.join(INSULATING)}; or none"
    )


def readable(text: str) -> bool:
    """Whether a coating is understood."""
    if _class_name(text) is not None:
        return True
    name, amount, unit = _parts(text)
    if name in (*NOTHING, *INSULATING):
        return amount is None
    return name in METALS and (unit in (None, "um") or name == "zinc")


def coating_class(stated: str | None) -> ZincClass | None:
    """The class of zinc that a coating was stated as; None where it is none that promises a least mass."""
    return None if stated is None else zinc_class(_class_name(stated) or "")


def coating(of: str, stated: str | None, *, diameter_mm: float | None = None) -> Coating | None:
    """The metal coating of the material named `of`, by its name or as `stated`; None where there is none.

    `stated` must be readable. It wins over the name, so that "zinc-coated steel" can be given its thickness.
    The zinc of a class is as thick at least as it promises at this diameter of the wire, where that is known.
    """
    if stated is not None and _class_name(stated) is not None:
        return _of_class(coating_class(stated), diameter_mm)
    implied = COATED.get(plain_name(of))
    name, amount, unit = _parts(stated if stated is not None else implied[1] if implied else "none")
    metal = material(name) if name in METALS else None
    if metal is None:
        return None
    if amount is not None:
        return Coating(metal, exactly(_micrometres(amount, unit)))
    return Coating(metal, Between(0.0, THICKEST_UM), *(NOT_SAID if name == "zinc" else NO_THICKNESS))


def _of_class(known: ZincClass | None, diameter_mm: float | None) -> Coating:
    """Zinc of a class, or of the regular one that promises nothing."""
    zinc = Coating(_ZINC, Between(0.0, THICKEST_UM), *NOT_SAID)
    least = None if known is None or diameter_mm is None else known.least_g_per_m2(diameter_mm)
    if known is None or least is None:
        return zinc
    return Coating(_ZINC, Between(_micrometres(least, "g/m2"), THICKEST_UM), known.source, known.status)


def _micrometres(amount: float, unit: str | None) -> float:
    if unit == "um":
        return amount
    grams = amount * (GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2 if unit == "oz/ft2" else 1.0)
    return grams / ZINC_KG_PER_M3 * 1e3


def _class_name(text: str) -> str | None:
    """The class that a coating was stated as, "zinc" before it aside; None for no class known here."""
    name = plain_name(text.replace(",", " ")).removeprefix("zinc ")
    return name if name == REGULAR or zinc_class(name) is not None else None


def _parts(text: str) -> tuple[str, float | None, str | None]:
    """Name, amount and unit of a coating as written; an empty name where it cannot be read."""
    found = _WRITTEN.fullmatch(plain_name(text))
    if found is None or (found[2] is not None and not math.isfinite(float(found[2]))):
        return "", None, None
    unit = found[3] and found[3].replace("µ", "u").replace("μ", "u").replace("²", "2")
    return found[1].strip(), None if found[2] is None else float(found[2]), unit
