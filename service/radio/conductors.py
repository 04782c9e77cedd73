"""Metals by their everyday names, with what they are taken for, its source and its status.

Resistivity is that of the bulk metal at 20 degrees Celsius. Permeability is a pair: the least and the most it
may be at VHF and UHF. For ferromagnetic metals it is not known there; the bracket 1 to 300 is a judgement on
abstracts (Bowler, *Frequency-dependence of relative permeability in steel*; an IEE review of permeability at
high frequencies), status secondary.
"""

from dataclasses import dataclass
from typing import Final

FERROMAGNETIC: Final = (1.0, 300.0)
BULK: Final = "bulk metal at 293 K, handbook value (CRC Handbook; Matula 1979, J. Phys. Chem. Ref. Data 8)"
_STEEL_MU: Final = "Its permeability at VHF and UHF is not known: taken as 1 to 300, a judgement."


@dataclass(frozen=True)
class Material:
    """A metal; `others` are further names it is known by, `note` what a reader should know of it."""

    name: str
    resistivity_ohm_m: float
    source: str
    status: str
    permeability: tuple[float, float] = (1.0, 1.0)
    others: tuple[str, ...] = ()
    note: str = ""

    @property
    def code(self) -> str:
        """Stands for name, source, status and note as they are now: other words need another code."""
        return self.name.replace(" ", "-")

    def document(self) -> dict[str, object]:
        """The metal, JSON-ready."""
        return {
            "code": self.code,
            "name": self.name,
            "resistivity_ohm_m": self.resistivity_ohm_m,
            "permeability": {"low": self.permeability[0], "high": self.permeability[1]},
            "source": self.source,
            "status": self.status,
            "note": self.note,
        }


MATERIALS: Final = (
    Material("silver", 1.587e-8, BULK, "memory; 1.59e-8 secondary"),
    Material(
        "copper",
        1.724138e-8,
        "annealed copper, IEC 60028 (1/58 ohm mm2/m); NBS Handbook 100 (1966)",
        "secondary and computed",
        others=("annealed copper", "bare copper"),
    ),
    Material("pure copper", 1.678e-8, BULK, "secondary (1.68e-8)"),
    Material("gold", 2.214e-8, f"{BULK}; some tables print 2.44e-8", "memory"),
    Material(
        "aluminium",
        2.65e-8,
        BULK,
        "secondary",
        others=("aluminum", "pure aluminium"),
        note="This is pure aluminium; an alloy has more resistance (aluminium 6063, aluminium 6061).",
    ),
    Material(
        "aluminium wire",
        2.826e-8,
        "61 % IACS (NBS Handbook 109, 1972)",
        "secondary and computed",
        others=("electrical aluminium", "aluminum wire"),
    ),
    Material(
        "aluminium 6063",
        3.3e-8,
        "about 52 to 55 % IACS, alloy data",
        "memory",
        others=("aluminum 6063", "6063"),
    ),
    Material(
        "aluminium 6061",
        4e-8,
        "temper T6, about 43 % IACS, alloy data",
        "memory",
        others=("aluminum 6061", "aluminium 6061-t6", "6061"),
    ),
    Material("zinc", 5.9e-8, BULK, "secondary"),
    Material(
        "brass",
        6.2e-8,
        "70/30, about 28 % IACS; tables give 5.9e-8 (58 % Cu) to 7.1e-8 (63 % Cu)",
        "secondary (range)",
        others=("brass 70/30",),
    ),
    Material(
        "phosphor bronze",
        1.15e-7,
        "5 % tin (C51000), about 15 % IACS, alloy data",
        "memory",
        note="Phosphor bronze with less tin has less resistance.",
    ),
    Material("nickel", 6.93e-8, BULK, "memory; 6.99e-8 secondary", FERROMAGNETIC, note=_STEEL_MU),
    Material("iron", 9.61e-8, BULK, "memory; 9.58e-8 to 1.0e-7 secondary", FERROMAGNETIC, note=_STEEL_MU),
    Material("tin", 1.15e-7, BULK, "secondary"),
    Material(
        "steel",
        1.43e-7,
        "1010 carbon steel, tabulated; cast steel 1.61e-7",
        "secondary",
        FERROMAGNETIC,
        others=("carbon steel", "low-carbon steel", "mild steel", "bare steel"),
        note=_STEEL_MU,
    ),
    Material(
        "stainless steel",
        7.2e-7,
        "austenitic stainless steel 304, 6.9e-7 to 7.2e-7",
        "secondary (6.9e-7)",
        (1.0, 10.0),
        others=("stainless", "stainless steel 304", "304"),
        note="Its permeability is about 1 annealed and rises when cold drawn: taken as 1 to 10, a judgement.",
    ),
)
COATED: Final = {
    "zinc-coated steel": ("steel", "zinc"),
    "galvanised steel": ("steel", "zinc"),
    "galvanized steel": ("steel", "zinc"),
    "copper-coated steel": ("steel", "copper"),
    "tinned copper": ("copper", "tin"),
    "silver-plated copper": ("copper", "silver"),
}
"""Names that say a base and its coating."""
MATERIAL_NAMES: Final = (*(material.name for material in MATERIALS), *COATED)


def material(name: str) -> Material | None:
    """The metal of that name, capitals and spaces around aside; None for one that is not known.

    A coated one (zinc-coated steel) answers its base; `COATED` names the coating.
    """
    wanted = plain_name(name)
    wanted = COATED[wanted][0] if wanted in COATED else wanted
    return next((found for found in MATERIALS if wanted in (found.name, *found.others)), None)


def plain_name(name: str) -> str:
    """A name as it is looked up: small letters, single spaces."""
    return " ".join(name.lower().split())
