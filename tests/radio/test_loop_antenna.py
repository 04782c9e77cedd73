"""The loop against the small-loop formula and against published impedances at one wavelength."""

import cmath
import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import i0, jv, k0

from service.radio import loop_antenna
from service.radio.loop_antenna import loop_current, loop_impedance_ohm, small_loop_ohm
from tests.radio.facts import FACTS

LOOP = FACTS["radiation"]["one_wavelength_loop"]
# Fourier-series theory (Storer 1956, Wu 1962, King and Harrison); status computed.
PRINTED = [
    (float(omega), complex(z)) for omega, text in LOOP["Z_ohm_by_Omega_at_C_1.00"].items() for z in [text]
]


def wire(omega: float, circumference: float = 1.0) -> float:
    """Circumference of the wire whose thickness parameter is 2 ln(2 pi b / a)."""
    return circumference * 2 * math.pi * math.exp(-omega / 2)


@pytest.mark.parametrize(("omega", "impedance"), [pair for pair in PRINTED if pair[0] >= 12])
def test_the_impedance_at_one_wavelength_is_the_printed_one(omega, impedance):
    found = loop_impedance_ohm(1.0, wire(omega))
    assert abs(found.real - impedance.real) <= 0.55
    assert abs(found.imag - impedance.imag) <= 1.05


def test_of_a_thick_wire_the_impedance_depends_on_where_the_series_is_cut():
    """At Omega 10 the printed 96 - 96j took some 20 harmonics more; the gap's capacitance has no limit."""
    impedance = dict(PRINTED)[10.0]
    found = loop_impedance_ohm(1.0, wire(10.0))
    assert abs(found - impedance) == pytest.approx(4.0, abs=0.5)


@pytest.mark.parametrize(
    ("omega", "resonance"), [(float(o), c) for o, c in LOOP["resonant_C_over_lambda"].items()]
)
def test_it_is_in_resonance_at_the_printed_circumference(omega, resonance):
    below, above = (
        loop_impedance_ohm(c, wire(omega, c)).imag for c in (resonance - 0.011, resonance + 0.011)
    )
    assert below < 0 < above


def test_a_small_loop_radiates_as_the_small_loop_formula_says():
    """The collected values: 1.12 times at a tenth of a wavelength, 1.6 times at a fifth."""
    assert loop_current(0.05, wire(12, 0.05)).radiation_ohm == pytest.approx(small_loop_ohm(0.05), rel=0.01)
    for circumference, times, digit in ((0.1, 1.12, 0.01), (0.2, 1.6, 0.1)):
        resistance = loop_impedance_ohm(circumference, wire(12, circumference)).real
        assert resistance / small_loop_ohm(circumference) == pytest.approx(times, abs=digit)


def test_the_current_of_a_small_loop_is_uniform_and_that_of_one_wavelength_about_a_sinusoid():
    assert loop_current(0.03, wire(12, 0.03)).mean_square == pytest.approx(1.0, abs=0.01)
    assert loop_current(1.0, wire(20)).mean_square == pytest.approx(0.5, abs=0.03)


def test_the_least_plausible_radiation_resistance_is_safe_with_the_current_taken_as_uniform():
    """The collected bound: k = 1 and 100 ohm from 0.9 to 1.4 wavelengths lose more than any slender loop."""
    for circumference in np.linspace(0.9, 1.4, 11):
        for omega in (9.1, 12.0, 20.0):
            found = loop_current(float(circumference), wire(omega, float(circumference)))
            assert found.mean_square / found.radiation_ohm < 1 / 100


@pytest.mark.parametrize("n", [0, 1, 5, 12])
@pytest.mark.parametrize("span", [0.3, 2.0, 5.0])
def test_the_moments_are_the_integrals_they_stand_for(n, span):
    def bessel(x):
        return jv(2 * n, x)

    def lommel(x):
        return quad(lambda t: math.sin(x * math.sin(t) - 2 * n * t), 0, math.pi, limit=200)[0] / math.pi

    wanted = quad(lommel, 0, span)[0] + 1j * quad(bessel, 0, span)[0]
    assert abs(loop_antenna._moments(span, 12)[n] - wanted) < 1e-4


@pytest.mark.parametrize("x", [0.001, 0.1, 1.0, 4.0, 8.0])
def test_the_product_of_bessel_functions_is_that_of_scipy(x):
    assert loop_antenna._bessel_product(x) == pytest.approx(float(k0(x) * i0(x)), rel=1e-8)


def test_the_published_small_loop_numbers():
    """Balanis chapter 5; status computed."""
    assert FACTS["radiation"]["small_loop"]["formula"].startswith("20*pi^2")
    assert small_loop_ohm(0.1) == pytest.approx(20 * math.pi**2 * 1e-4, rel=1e-12)
    assert small_loop_ohm(0.1) == pytest.approx(31171 * (math.pi * (0.1 / (2 * math.pi)) ** 2) ** 2, rel=1e-4)
    assert cmath.isfinite(loop_impedance_ohm(2.5, wire(9.0, 2.5)))
