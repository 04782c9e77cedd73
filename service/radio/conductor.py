"""A conductor of an antenna: its metal and shape, and the resistance of a metre of it.

R' = Rs / perimeter for a smooth conductor much thicker than the skin. A strip carries more current at its
edges and a stranded wire has crests that carry most: both are taken as 1 to 2 times the smooth conductor of
the same outline, a judgement (status: memory).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from service.radio.between import Between, spanning
from service.radio.coatings import Coating
from service.radio.conductors import Material
from service.radio.skin_effect import coated_surface_resistance_ohm, skin_depth_m, surface_resistance_ohm

FORMS: Final = ("wire", "rod", "tube", "strip", "stranded")
ROUGH: Final = {"strip": (1.0, 2.0), "stranded": (1.0, 2.0)}
STRIP_OVER_ROUND: Final = 2
"""A strip this many times as wide acts on the fields as a round wire of this diameter."""
DEPTHS_IN_RADIUS: Final = 5.0
STEPS_IN_DEPTH: Final = 10
DEPTHS_THAT_TELL: Final = 3


@dataclass(frozen=True)
class Conductor:
    """One conductor; the diameter of a strip is its width, that of a stranded wire the circle around it."""

    material: Material
    coating: Coating | None
    form: str
    diameter_mm: float
    length_mm: float

    @property
    def metal(self) -> tuple[Material, Coating | None]:
        """What it is made of, shape aside."""
        return self.material, self.coating

    @property
    def shape(self) -> tuple[str, float, float]:
        """Form, diameter and length."""
        return self.form, self.diameter_mm, self.length_mm

    @property
    def perimeter_m(self) -> float:
        """Around the cross-section; of a strip both faces."""
        return (2 if self.form == "strip" else math.pi) * self.diameter_mm / 1e3

    @property
    def radius_m(self) -> float:
        """The radius of a round wire that acts alike on the fields: a quarter of a strip's width.

        Source: Balanis, *Antenna Theory*, chapter 9, equivalent radii; status memory.
        """
        return self.diameter_mm / 2e3 / (STRIP_OVER_ROUND if self.form == "strip" else 1)

    def shaped_as(self, other: "Conductor") -> "Conductor":
        """This metal in the shape of another conductor."""
        return replace(self, form=other.form, diameter_mm=other.diameter_mm, length_mm=other.length_mm)

    def skin_depth_m(self, frequency_hz: float) -> Between:
        """Skin depth of the metal on the outside, or of either where the coating may be missing."""
        outside = [self.material] if self.coating is None else [self.coating.material]
        if self.coating is not None and self.coating.thickness_um.low == 0:
            outside.append(self.material)
        return spanning(
            skin_depth_m(metal.resistivity_ohm_m, frequency_hz, permeability=mu)
            for metal in outside
            for mu in metal.permeability
        )

    def surface_resistance_ohm(self, frequency_hz: float) -> Between:
        """Surface resistance, from the least to the most that permeability and thickness allow."""
        return _surface_resistance_ohm(self.material, self.coating, frequency_hz)

    def is_thick(self, frequency_hz: float) -> bool:
        """Whether its radius (half the width of a strip) is several skin depths."""
        return self.diameter_mm / 2e3 >= DEPTHS_IN_RADIUS * self.skin_depth_m(frequency_hz).high

    def smooth_ohm_per_m(self, frequency_hz: float) -> Between:
        """Resistance of a metre, roughness of the form left aside.

        Where the skin is not thin the truth lies between the resistance of the skin and that plus the
        resistance at direct current, whatever the ratio of radius to depth.
        """
        surface = self.surface_resistance_ohm(frequency_hz)
        skin = Between(surface.low / self.perimeter_m, surface.high / self.perimeter_m)
        if self.is_thick(frequency_hz):
            return skin
        area = math.pi * (self.diameter_mm / 2e3) ** 2
        return Between(skin.low, skin.high + self.material.resistivity_ohm_m / area)


@lru_cache(maxsize=4096)
def _surface_resistance_ohm(base: Material, coating: Coating | None, frequency_hz: float) -> Between:
    under = [(base.resistivity_ohm_m, mu) for mu in base.permeability]
    if coating is None:
        return spanning(surface_resistance_ohm(rho, frequency_hz, permeability=mu) for rho, mu in under)
    found = []
    for mu in coating.material.permeability:
        coat = (coating.material.resistivity_ohm_m, mu)
        depth = skin_depth_m(coat[0], frequency_hz, permeability=mu)
        found += [
            coated_surface_resistance_ohm(coat, inner, frequency_hz, thickness_m=thickness)
            for inner in under
            for thickness in _thicknesses_m(coating.thickness_um, depth)
        ]
    return spanning(found)


def roughness(form: str) -> Between:
    """How many times the smooth conductor's resistance the form has."""
    return Between(*ROUGH.get(form, (1.0, 1.0)))


def metals_of(conductors: Iterable[Conductor]) -> tuple[Material, ...]:
    """The metals of some conductors, coatings included, each once."""
    held = list(conductors)
    metals = [conductor.material for conductor in held]
    metals += [conductor.coating.material for conductor in held if conductor.coating is not None]
    return tuple(dict.fromkeys(metals))


def coatings_of(conductors: Iterable[Conductor]) -> tuple[Coating, ...]:
    """The metal coatings of some conductors, each once."""
    coats = (conductor.coating for conductor in conductors)
    return tuple(dict.fromkeys(coat for coat in coats if coat is not None))


def _thicknesses_m(thickness_um: Between, depth_m: float) -> list[float]:
    """The thicknesses to look at: both ends, and every tenth of a skin depth between, where it turns."""
    if thickness_um.value is not None:
        return [thickness_um.value * 1e-6]
    ends = (thickness_um.low * 1e-6, thickness_um.high * 1e-6)
    between = (depth_m * step / STEPS_IN_DEPTH for step in range(1, DEPTHS_THAT_TELL * STEPS_IN_DEPTH))
    return [*ends, *(thickness for thickness in between if ends[0] < thickness < ends[1])]
