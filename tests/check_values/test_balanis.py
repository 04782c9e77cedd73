"""Worked examples of Balanis, *Antenna Theory*, chapters 2 and 5, within their printed digits.

Source: 3rd and 4th edition; the problem data are from memory, the arithmetic was redone. Status: computed.
The examples take a conductivity of 5.7e7 S/m, which is no metal of the tables.
"""

import math

import pytest

from service.radio.conductor import Conductor
from service.radio.conductor_loss import compare
from service.radio.conductors import Material
from service.radio.constants import wavelength_m
from service.radio.loop_antenna import small_loop_ohm
from service.radio.skin_effect import surface_resistance_ohm

MHZ = 100.0
WAVE = wavelength_m(MHZ)
COPPER = Material("copper of the examples", 1 / 5.7e7, "Balanis", "memory")
PRINTED = {
    "Rr_1_turn": (0.788, 0.0005),
    "Rr_8_turns": (50.4, 0.05),
    "RL_1_turn": (1.053, 0.0005),
    "RL_8": (11.62, 0.005),
    "RL_half_wave": (0.349, 0.0005),
}
LOOP_RADIUS, LOOP_WIRE = 1 / 25, 1e-4  # in wavelengths
CIRCUMFERENCE = 2 * math.pi * LOOP_RADIUS
PROXIMITY = 0.38  # Rp / R0 of eight turns, as the book reads it off a curve


def within(value: float, name: str) -> bool:
    printed, half_a_digit = PRINTED[name]
    return abs(value - printed) <= half_a_digit


def loop_loss_ohm() -> float:
    """R' L of the loop of example 5.3, with a uniform current."""
    surface = surface_resistance_ohm(COPPER.resistivity_ohm_m, MHZ * 1e6)
    return surface * CIRCUMFERENCE / (2 * math.pi * LOOP_WIRE)


def test_example_5_1_radiation_resistance_of_one_turn_and_of_eight():
    assert within(small_loop_ohm(CIRCUMFERENCE), "Rr_1_turn")
    assert within(small_loop_ohm(CIRCUMFERENCE, turns=8), "Rr_8_turns")


def test_example_5_3_loss_and_efficiency_of_one_turn():
    loss, radiated = loop_loss_ohm(), small_loop_ohm(CIRCUMFERENCE)
    assert within(loss, "RL_1_turn")
    assert radiated / (radiated + loss) == pytest.approx(0.428, abs=0.0005)
    assert -10 * math.log10(1 + loss / radiated) == pytest.approx(-3.69, abs=0.005)


def test_example_5_3_loss_and_efficiency_of_eight_turns():
    loss, radiated = 8 * loop_loss_ohm() * (1 + PROXIMITY), small_loop_ohm(CIRCUMFERENCE, turns=8)
    assert within(loss, "RL_8")
    assert radiated / (radiated + loss) == pytest.approx(0.813, abs=0.0005)
    assert -10 * math.log10(1 + loss / radiated) == pytest.approx(-0.90, abs=0.005)


def half_wave_dipole() -> Conductor:
    return Conductor(COPPER, None, "wire", diameter_mm=2 * 3e-4 * WAVE * 1e3, length_mm=WAVE / 2 * 1e3)


def test_example_2_13_loss_and_efficiency_of_a_half_wave_dipole():
    dipole = half_wave_dipole()
    found = compare(dipole, dipole, "half-wave dipole", frequency_mhz=MHZ).first
    assert within(found.loss_ohm.value, "RL_half_wave")
    assert 10 ** (found.efficiency_db.value / 10) == pytest.approx(0.9952, abs=0.00005)
    assert found.efficiency_db.value == pytest.approx(-0.021, abs=0.0005)
