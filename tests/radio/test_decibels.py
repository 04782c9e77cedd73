"""Levels in decibels from one unit to another."""

import math

import pytest

from service.radio.decibels import level_shift, needs_impedance


@pytest.mark.parametrize(
    ("unit", "into", "ohm", "shift"),
    [
        # 0 dBm in 75 ohm is 108.75 dBuV and 48.75 dBmV, in 50 ohm 106.99 dBuV: common practice
        ("dBm", "dBuV", 75, 108.75),
        ("dBm", "dBmV", 75, 48.75),
        ("dBm", "dBuV", 50, 106.99),
        ("dBuV", "dBm", 50, -106.99),
        ("dBmV", "dBuV", None, 60),
        ("dBuV", "dBmV", None, -60),
        ("dB", "dB", None, 0),
    ],
)
def test_what_is_added(unit, into, ohm, shift):
    assert level_shift(unit, into, ohm) == pytest.approx(shift, abs=0.005)


@pytest.mark.parametrize("ohm", [50.0, 75.0, 300.0])
def test_a_milliwatt_in_a_resistor_by_its_voltage(ohm):
    volts = math.sqrt(1e-3 * ohm)
    assert level_shift("dBm", "dBuV", ohm) == pytest.approx(20 * math.log10(volts / 1e-6), abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "into", "ohm"),
    [("dBm", "dBuV", None), ("dB", "dBuV", 75), ("percent", "dB", 75), ("dBm", "bars", 75)],
)
def test_what_cannot_be_converted(unit, into, ohm):
    assert level_shift(unit, into, ohm) is None


def test_only_power_and_voltage_need_the_impedance():
    assert needs_impedance("dBm", "dBuV")
    assert needs_impedance("dBmV", "dBm")
    assert not needs_impedance("dBmV", "dBuV")
    assert not needs_impedance("dB", "dBm")
    assert not needs_impedance("dBm", "dBm")
