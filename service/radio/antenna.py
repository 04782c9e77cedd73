"""What an antenna of one conductor radiates: a loop of one turn, or a dipole fed at its centre."""

import math
from dataclasses import dataclass
from typing import Final

from service.radio.between import Between, exactly
from service.radio.conductor import Conductor
from service.radio.constants import wavelength_m
from service.radio.dipole_antenna import dipole_impedance_ohm, dipole_largest, dipole_mean_square, dipole_ohm
from service.radio.formula_limits import FormulaLimit, not_slender, too_long
from service.radio.loop_antenna import loop_current, loop_impedance_ohm, small_loop_ohm

LOOP, DIPOLE = "loop", "half-wave dipole"
KINDS: Final = (LOOP, DIPOLE)
LONGEST: Final = {LOOP: 2.5, DIPOLE: 1.0}
"""Up to how many wavelengths of conductor the formula is used."""
SMALL_LOOP: Final = 0.05
SLENDER: Final = 90.0
"""Length over radius from which a conductor counts as thin."""
PLAUSIBLE_OHM: Final = {LOOP: 100.0, DIPOLE: 73.0}
"""The smallest plausible radiation resistance of a loop of 0.9 to 1.4 wavelengths, and of a long dipole."""


@dataclass(frozen=True)
class Radiation:
    """Radiation resistance, and the mean square of the current, both referred to the largest current.

    `resistance_ohm` is None where no formula holds; `least_ohm` is the smallest it may plausibly be, which
    makes the most of a loss. `limit` says why no formula holds.
    """

    resistance_ohm: float | None
    mean_square: Between
    least_ohm: float
    limit: FormulaLimit | None = None


def radiation(kind: str, conductor: Conductor, frequency_mhz: float) -> Radiation:
    """What the conductor radiates as an antenna of that kind."""
    length = conductor.length_mm / 1e3 / wavelength_m(frequency_mhz)
    slender = conductor.length_mm / 1e3 / conductor.radius_m
    if length > LONGEST[kind]:
        limit = too_long(length, LONGEST[kind])
        return Radiation(None, Between(0.0, 1.0), PLAUSIBLE_OHM[kind], limit)
    wave = _loop(length, slender) if kind == LOOP else _dipole(length)
    if slender >= SLENDER:
        return wave
    return Radiation(None, Between(0.0, 1.0), wave.least_ohm / 2, not_slender(slender, SLENDER))


def impedance_ohm(kind: str, conductor: Conductor, frequency_mhz: float) -> complex:
    """The impedance at the feed point, loss left aside; only where `radiation` has a resistance."""
    wave = wavelength_m(frequency_mhz)
    length, radius = conductor.length_mm / 1e3 / wave, conductor.radius_m / wave
    if kind == LOOP:
        return loop_impedance_ohm(length, 2 * math.pi * radius)
    return dipole_impedance_ohm(length, radius)


def _loop(length: float, slender: float) -> Radiation:
    if length < SMALL_LOOP:
        resistance = small_loop_ohm(length)
        return Radiation(resistance, exactly(1.0), resistance)
    found = loop_current(length, 2 * math.pi * length / max(slender, SLENDER))
    resonant = 0.9 < length < 1.4
    least = min(PLAUSIBLE_OHM[LOOP], found.radiation_ohm) if resonant else found.radiation_ohm
    return Radiation(found.radiation_ohm, exactly(found.mean_square), least)


def _dipole(length: float) -> Radiation:
    resistance = dipole_ohm(length) / dipole_largest(length)
    return Radiation(resistance, exactly(dipole_mean_square(length)), resistance)
