"""Skin depth and surface resistance of metals, bare and coated.

Valid on a smooth surface of bulk metal whose radius of curvature and thickness are several skin depths.
Source: Wheeler 1942, *Formulas for the skin effect*, Proc. IRE 30; any text on fields. Status: computed.
"""

import cmath
import math

from service.radio.constants import VACUUM_PERMEABILITY_H_PER_M


def skin_depth_m(resistivity_ohm_m: float, frequency_hz: float, *, permeability: float = 1.0) -> float:
    """sqrt(rho / (pi f mu0 mu_r)): where the current has fallen to 1/e."""
    return math.sqrt(
        resistivity_ohm_m / (math.pi * frequency_hz * VACUUM_PERMEABILITY_H_PER_M * permeability)
    )


def surface_resistance_ohm(
    resistivity_ohm_m: float, frequency_hz: float, *, permeability: float = 1.0
) -> float:
    """rho / delta: the resistance of a square of the surface."""
    return resistivity_ohm_m / skin_depth_m(resistivity_ohm_m, frequency_hz, permeability=permeability)


def coated_surface_resistance_ohm(
    coating: tuple[float, float], base: tuple[float, float], frequency_hz: float, *, thickness_m: float
) -> float:
    """Surface resistance of a coating of this thickness on a thick base; each is (resistivity, permeability).

    The surface impedance of two layers, Z = Z1 (Z2 + Z1 tanh g t) / (Z1 + Z2 tanh g t) with Z = (1 + j) rho /
    delta of each and g = (1 + j) / delta of the coating. Around 1.6 skin depths it lies up to 8 % below that
    of solid coating metal. Source: the input impedance of a terminated line, any text on fields. Computed.
    """
    depth = skin_depth_m(coating[0], frequency_hz, permeability=coating[1])
    outer = (1 + 1j) * coating[0] / depth
    inner = (1 + 1j) * surface_resistance_ohm(base[0], frequency_hz, permeability=base[1])
    through = cmath.tanh((1 + 1j) * thickness_m / depth)
    return (outer * (inner + outer * through) / (outer + inner * through)).real
