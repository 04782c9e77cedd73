"""Metals against the collected handbook values, status included."""

import pytest

from service.radio.conductors import COATED, FERROMAGNETIC, MATERIAL_NAMES, MATERIALS, material
from service.radio.constants import (
    SPEED_OF_LIGHT_M_PER_S,
    VACUUM_PERMEABILITY_H_PER_M,
    WAVE_IMPEDANCE_OHM,
    wavelength_m,
)
from tests.radio.facts import FACTS

NAMES = {
    "silver": "silver",
    "copper": "copper_annealed_IACS",
    "pure copper": "copper_pure",
    "gold": "gold",
    "aluminium": "aluminium_pure",
    "aluminium wire": "aluminium_EC_61pct",
    "aluminium 6063": "aluminium_6063",
    "aluminium 6061": "aluminium_6061_T6",
    "zinc": "zinc",
    "brass": "brass_70_30",
    "nickel": "nickel",
    "iron": "iron",
    "tin": "tin",
    "steel": "steel_low_carbon",
    "stainless steel": "stainless_304",
}
BESIDE = {"phosphor bronze"}  # not in the collected values: from memory, and marked so


def test_every_metal_is_one_of_the_collected_ones_or_is_marked_as_memory():
    assert {metal.name for metal in MATERIALS} == set(NAMES) | BESIDE
    assert {material(name).status for name in BESIDE} == {"memory"}


@pytest.mark.parametrize(("name", "collected"), NAMES.items())
def test_resistivity_is_the_handbook_value(name, collected):
    fact = FACTS["resistivity_ohm_m_20c"][collected]
    assert material(name).resistivity_ohm_m == pytest.approx(fact["rho"], rel=1e-12)


@pytest.mark.parametrize(("name", "collected"), NAMES.items())
def test_the_status_is_that_of_the_collected_value(name, collected):
    """What was only remembered says so; nothing that was not opened claims more than a secondary source."""
    status = FACTS["resistivity_ohm_m_20c"][collected]["status"]
    assert material(name).status.split(" ")[0].rstrip(";") == status.split(" ")[0].split("+")[0].rstrip(";")
    assert material(name).document()["status"] == material(name).status


@pytest.mark.parametrize("name", ["nickel", "iron", "steel"])
def test_permeability_that_nobody_knows_at_these_frequencies_is_a_bracket(name):
    fact = FACTS["steel_mu_caution"]
    assert list(FERROMAGNETIC) == fact["mu_range_for_bounds_VHF_UHF"]
    assert material(name).permeability == FERROMAGNETIC
    assert "judgement" in material(name).note


def test_permeability_is_one_where_the_collected_value_says_so():
    for name, collected in NAMES.items():
        if FACTS["resistivity_ohm_m_20c"][collected]["mu_r"] == 1.0:
            assert material(name).permeability == (1.0, 1.0), name


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("Copper", "copper"),
        ("  stainless  steel ", "stainless steel"),
        ("aluminum", "aluminium"),
        ("zinc-coated steel", "steel"),
        ("Galvanised steel", "steel"),
        ("tinned copper", "copper"),
    ],
)
def test_everyday_names_are_understood(written, name):
    assert material(written).name == name


@pytest.mark.parametrize("written", ["unobtainium", "", "bronze", "copper-ish"])
def test_other_names_are_not_guessed(written):
    assert material(written) is None


def test_every_name_that_is_offered_is_understood_and_none_means_two_metals():
    assert all(material(name) for name in MATERIAL_NAMES)
    every = [name for metal in MATERIALS for name in (metal.name, *metal.others)] + list(COATED)
    assert len(every) == len(set(every))


def test_constants_are_the_collected_ones():
    """Source: SI 2019 and CODATA. Status: memory."""
    fact = FACTS["constants"]
    assert fact["c_m_per_s"] == SPEED_OF_LIGHT_M_PER_S
    assert fact["mu0_H_per_m"] == VACUUM_PERMEABILITY_H_PER_M
    assert fact["eta0_ohm"] == WAVE_IMPEDANCE_OHM
    product = SPEED_OF_LIGHT_M_PER_S * VACUUM_PERMEABILITY_H_PER_M
    assert product == pytest.approx(WAVE_IMPEDANCE_OHM, abs=0.005)
    assert wavelength_m(299.792458) == pytest.approx(1.0, rel=1e-15)
