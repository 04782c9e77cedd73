"""What an antenna radiates: where a formula holds, where it does not, and the least that is plausible."""

import pytest

from service.radio.antenna import (
    DIPOLE,
    KINDS,
    LONGEST,
    LOOP,
    PLAUSIBLE_OHM,
    SLENDER,
    impedance_ohm,
    radiation,
)
from tests.radio.facts import FACTS
from tests.radio.made_conductors import made


def test_the_least_plausible_resistances_are_the_collected_ones():
    assert "100 ohm for 0.9<C/lambda<1.4" in FACTS["loss_chain"]["safe_bound"]
    assert PLAUSIBLE_OHM[LOOP] == 100.0
    assert PLAUSIBLE_OHM[DIPOLE] == pytest.approx(FACTS["radiation"]["half_wave_dipole"]["R_ohm"], abs=0.1)


def test_a_half_wave_dipole_radiates_from_73_ohm():
    found = radiation(DIPOLE, made("copper", 2.0, 600.0), 299.792458 / 1.2)
    assert found.resistance_ohm == pytest.approx(73.1, abs=0.1)
    assert found.mean_square.value == pytest.approx(0.5, abs=1e-6)
    assert found.limit is None


def test_a_loop_of_one_wavelength_takes_no_more_than_100_ohm_for_its_bound():
    found = radiation(LOOP, made("copper", 2.0, 600.0), 299.792458 / 0.6)
    assert found.resistance_ohm > 100
    assert found.least_ohm == 100.0


@pytest.mark.parametrize("kind", KINDS)
def test_far_too_long_a_conductor_has_bounds_and_the_reason_and_no_number(kind):
    found = radiation(kind, made("copper", 2.0, 3000.0), 600.0)
    assert found.resistance_ohm is None
    assert found.least_ohm == PLAUSIBLE_OHM[kind]
    assert (found.limit.code, found.limit.evidence["longest"]) == ("too-long", LONGEST[kind])
    assert found.limit.evidence["wavelengths"] == pytest.approx(6.0, abs=0.01)
    assert "6.00 wavelengths long" in found.limit.sentence


@pytest.mark.parametrize("kind", KINDS)
def test_too_thick_a_conductor_has_bounds_and_the_reason_and_no_number(kind):
    thin, thick = (radiation(kind, made("copper", diameter, 600.0), 250.0) for diameter in (13.3, 13.4))
    assert thin.resistance_ohm is not None
    assert thick.resistance_ohm is None
    assert thick.least_ohm < thin.least_ohm
    assert thick.limit.code == "not-slender"
    assert thick.limit.evidence == {"slenderness": pytest.approx(600 / 6.7), "least": SLENDER}
    assert "as long as its radius" in thick.limit.sentence


def test_a_very_small_loop_goes_over_into_the_formula_for_small_loops():
    below, above = (radiation(LOOP, made("copper", 1.0, 600.0), mhz).resistance_ohm for mhz in (24.98, 24.99))
    assert below == pytest.approx(above, rel=0.02)


@pytest.mark.parametrize("kind", KINDS)
def test_the_impedance_belongs_to_the_same_conductor(kind):
    conductor = made("copper", 2.0, 600.0)
    thicker = made("copper", 6.0, 600.0)
    assert impedance_ohm(kind, conductor, 400.0) != impedance_ohm(kind, thicker, 400.0)
