"""The dipole against its published resistances, and its integrals against scipy's."""

import math

import pytest
from scipy.integrate import quad
from scipy.special import sici

from service.radio.dipole_antenna import (
    cosine_integral,
    dipole_impedance_ohm,
    dipole_largest,
    dipole_mean_square,
    dipole_ohm,
    sine_integral,
)
from tests.radio.facts import FACTS

RADIATION = FACTS["radiation"]  # Balanis chapter 4; status computed, equation numbers from memory


def test_half_a_wavelength_has_the_published_impedance():
    published = RADIATION["half_wave_dipole"]
    found = dipole_impedance_ohm(0.5, 1e-6)
    assert found.real == pytest.approx(published["R_ohm"], abs=0.0051)
    assert found.imag == pytest.approx(published["X_ohm"], abs=0.051)


def test_the_short_dipole_has_the_published_resistance():
    published = RADIATION["short_dipole_triangular"]["at_l_over_lambda_0.1"]
    triangular = {length: 20 * math.pi**2 * length**2 for length in (0.02, 0.1)}  # Balanis 4-37, from memory
    assert triangular[0.1] == pytest.approx(published, abs=0.00051)
    assert dipole_ohm(0.02) / dipole_largest(0.02) == pytest.approx(triangular[0.02], rel=0.001)
    assert dipole_ohm(0.1) / dipole_largest(0.1) == pytest.approx(triangular[0.1], rel=0.015)


@pytest.mark.parametrize("length", [0.02, 0.1, 0.3, 0.5, 0.7, 1.0])
def test_the_resistance_is_the_power_that_the_far_field_carries(length):
    """Integral over the sphere of the pattern of a sinusoidal current: R = eta/(2 pi) int F^2 / sin."""
    half = math.pi * length

    def density(angle):
        return (math.cos(half * math.cos(angle)) - math.cos(half)) ** 2 / math.sin(angle)

    power = quad(density, 0, math.pi)[0] * 376.73 / (2 * math.pi)
    assert dipole_ohm(length) == pytest.approx(power, rel=1e-7)


@pytest.mark.parametrize("length", [0.02, 0.1, 0.3, 0.5, 0.7, 1.0])
def test_the_mean_square_is_that_of_the_sinusoid(length):
    half = length / 2
    current = [math.sin(2 * math.pi * (half - x * half / 5000)) for x in range(5001)]
    mean = sum(value**2 for value in current) / len(current)
    assert dipole_mean_square(length) == pytest.approx(mean / max(value**2 for value in current), abs=5e-4)


def test_the_published_current_factors():
    """k = 1/2 for a sinusoid of half a wave, 1/3 for a triangle; status computed."""
    assert "1/2 sinusoid" in FACTS["loss_chain"]["3_total"]
    assert dipole_mean_square(0.5) == pytest.approx(1 / 2, rel=1e-12)
    assert dipole_mean_square(0.01) == pytest.approx(1 / 3, rel=1e-3)


@pytest.mark.parametrize("x", [1e-6, 0.1, 1.0, 3.14159, 6.28, 12.5663])
def test_the_integrals_are_those_of_scipy(x):
    sine, cosine = sici(x)
    assert sine_integral(x) == pytest.approx(sine, rel=1e-10)
    assert cosine_integral(x) == pytest.approx(cosine, rel=1e-8, abs=1e-10)
