"""Resistance of a metre of conductor: the skin formula, and bounds where it does not hold."""

import cmath
import math

import pytest
from scipy.special import jv

from service.radio.conductor import metals_of, roughness
from service.radio.constants import VACUUM_PERMEABILITY_H_PER_M
from service.radio.skin_effect import surface_resistance_ohm
from tests.radio.made_conductors import made


def exact_ohm_per_m(resistivity: float, radius_m: float, frequency_hz: float) -> float:
    """A round wire in full, by Bessel functions (any text on the skin effect), for the bounds to hold."""
    k = cmath.sqrt(-1j * 2 * math.pi * frequency_hz * VACUUM_PERMEABILITY_H_PER_M / resistivity)
    ratio = jv(0, k * radius_m) / jv(1, k * radius_m)
    return float((k * resistivity / (2 * math.pi * radius_m) * ratio).real)


@pytest.mark.parametrize("mhz", [1.0, 54.0, 200.0])
def test_a_thick_wire_has_its_surface_resistance_over_its_perimeter(mhz):
    wire = made("copper", 2.0)
    smooth = wire.smooth_ohm_per_m(mhz * 1e6).value
    assert smooth == pytest.approx(
        surface_resistance_ohm(1.724138e-8, mhz * 1e6) / (math.pi * 2e-3), rel=1e-12
    )
    if mhz > 1:
        assert smooth == pytest.approx(exact_ohm_per_m(1.724138e-8, 1e-3, mhz * 1e6), rel=0.02)


@pytest.mark.parametrize("depths", [0.3, 0.7, 1.0, 1.5, 2.0, 3.0, 4.9])
def test_the_bounds_of_a_thin_wire_hold_what_it_has(depths):
    resistivity, frequency = 1.724138e-8, 1e6
    depth = math.sqrt(resistivity / (math.pi * frequency * VACUUM_PERMEABILITY_H_PER_M))
    wire = made("copper", 2e3 * depths * depth)
    found = wire.smooth_ohm_per_m(frequency)
    assert not wire.is_thick(frequency)
    assert found.value is None
    assert found.low <= exact_ohm_per_m(resistivity, depths * depth, frequency) <= found.high


def test_from_five_skin_depths_on_it_counts_as_thick():
    depth = math.sqrt(1.724138e-8 / (math.pi * 1e6 * VACUUM_PERMEABILITY_H_PER_M))
    assert made("copper", 2e3 * 5.001 * depth).is_thick(1e6)
    assert not made("copper", 2e3 * 4.999 * depth).is_thick(1e6)


def test_steel_is_told_by_both_ends_of_its_permeability():
    steel = made("steel").surface_resistance_ohm(2e8)
    assert steel.value is None
    assert steel.high / steel.low == pytest.approx(math.sqrt(300), rel=1e-9)


def test_zinc_of_unknown_thickness_reaches_from_bare_steel_to_solid_zinc():
    unknown, bare, zinc = (
        made(name).surface_resistance_ohm(2e8) for name in ("zinc-coated steel", "steel", "zinc")
    )
    assert unknown.high == pytest.approx(bare.high, rel=1e-9)
    assert 0.9 * zinc.low <= unknown.low <= zinc.low
    assert made("zinc-coated steel").skin_depth_m(2e8).value is None


def test_zinc_of_a_known_thickness_hides_the_steel():
    coated, zinc = made("steel", coat="zinc 40 um"), made("zinc")
    assert coated.surface_resistance_ohm(2e8).value == pytest.approx(
        zinc.surface_resistance_ohm(2e8).value, rel=0.005
    )


def test_a_thin_coating_that_is_known_still_lies_within_its_bounds():
    unknown = made("zinc-coated steel").surface_resistance_ohm(2e8)
    for micrometres in (0.5, 3, 8.6, 13.6, 20, 50, 80):
        known = made("steel", coat=f"zinc {micrometres} um").surface_resistance_ohm(2e8)
        assert unknown.low * 0.999 <= known.low <= known.high <= unknown.high


def test_strip_and_strand_are_told_within_a_factor_of_two():
    assert roughness("strip").document() == roughness("stranded").document() == {"low": 1.0, "high": 2.0}
    assert roughness("wire").value == roughness("rod").value == roughness("tube").value == 1.0
    assert made("copper", 10.0, form="strip").perimeter_m == pytest.approx(0.02)
    assert made("copper", 10.0, form="strip").radius_m == pytest.approx(0.0025)


def test_the_metals_of_conductors_are_named_once_coatings_included():
    found = metals_of([made("copper"), made("zinc-coated steel"), made("steel")])
    assert [metal.name for metal in found] == ["copper", "steel", "zinc"]
