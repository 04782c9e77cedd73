"""Skin depth and surface resistance against published tables; coatings against their two limits."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from service.radio.conductors import material
from service.radio.constants import VACUUM_PERMEABILITY_H_PER_M
from service.radio.skin_effect import coated_surface_resistance_ohm, skin_depth_m, surface_resistance_ohm
from tests.radio.facts import FACTS

# Computed, and agreeing with published tables: copper 0.066 mm at 1 MHz, 6.6 um at 100 MHz, 2.1 um at 1 GHz.
CHECK = FACTS["skin_depth_check"]
DEPTHS = [(m, float(f), um) for m in ("copper", "aluminium", "zinc") for f, um in CHECK[f"{m}_um"].items()]
RESISTANCES = [
    (m, float(f), r) for m in ("copper", "aluminium", "zinc") for f, r in CHECK[f"Rs_{m}_mohm"].items()
]
ZINC, STEEL = (5.9e-8, 1.0), (1.43e-7, 1.0)


@pytest.mark.parametrize(("name", "mhz", "micrometres"), DEPTHS)
def test_skin_depth_is_the_published_one(name, mhz, micrometres):
    depth = skin_depth_m(material(name).resistivity_ohm_m, mhz * 1e6)
    assert depth * 1e6 == pytest.approx(micrometres, abs=0.0051)


@pytest.mark.parametrize(("name", "mhz", "milliohm"), RESISTANCES)
def test_surface_resistance_is_the_published_one(name, mhz, milliohm):
    resistance = surface_resistance_ohm(material(name).resistivity_ohm_m, mhz * 1e6)
    assert resistance * 1e3 == pytest.approx(milliohm, abs=0.00051)


def test_surface_resistance_goes_with_the_root_of_frequency_and_permeability():
    plain = surface_resistance_ohm(1e-7, 1e8)
    assert surface_resistance_ohm(1e-7, 4e8) == pytest.approx(2 * plain)
    assert surface_resistance_ohm(1e-7, 1e8, permeability=9) == pytest.approx(3 * plain)


def test_a_coating_of_nothing_is_the_base_and_a_thick_one_is_its_own_metal():
    base = surface_resistance_ohm(STEEL[0], 2e8)
    own = surface_resistance_ohm(ZINC[0], 2e8)
    assert coated_surface_resistance_ohm(ZINC, STEEL, 2e8, thickness_m=0.0) == pytest.approx(base)
    assert coated_surface_resistance_ohm(ZINC, STEEL, 2e8, thickness_m=1e-3) == pytest.approx(own)


def test_a_coating_of_the_base_metal_changes_nothing():
    own = surface_resistance_ohm(ZINC[0], 2e8)
    assert coated_surface_resistance_ohm(ZINC, ZINC, 2e8, thickness_m=3e-6) == pytest.approx(own)


@pytest.mark.parametrize("micrometres", [1.0, 5.0, 14.0, 40.0])
@pytest.mark.parametrize("permeability", [1.0, 300.0])
def test_the_layered_formula_is_what_the_field_equation_gives(micrometres, permeability):
    """E'' = j w mu0 mu E / rho through both layers, solved by scipy: Rs = Re(E / H) at the surface."""
    omega, frequency = 2 * math.pi * 2e8, 2e8
    base = (1.43e-7, permeability)
    depth = skin_depth_m(*base[:1], frequency, permeability=permeability)
    gamma = (1 + 1j) / depth

    def slope(_x, y):
        field, current = y[0] + 1j * y[1], y[2] + 1j * y[3]
        down = -1j * omega * VACUUM_PERMEABILITY_H_PER_M * current
        along = -field / ZINC[0]
        return np.array([down.real, down.imag, along.real, along.imag])

    def ends(at_surface, at_base):
        field, current = at_base[0] + 1j * at_base[1], at_base[2] + 1j * at_base[3]
        residue = field - gamma * base[0] * current
        return np.array([at_surface[2] - 1.0, at_surface[3], residue.real, residue.imag])

    grid = np.linspace(0, micrometres * 1e-6, 400)
    start = np.zeros((4, grid.size))
    start[2] = 1.0
    solved = solve_bvp(slope, ends, grid, start, tol=1e-6, max_nodes=20000)
    assert solved.success
    wanted = coated_surface_resistance_ohm(ZINC, base, frequency, thickness_m=micrometres * 1e-6)
    assert solved.y[0][0] == pytest.approx(wanted, rel=1e-4)
