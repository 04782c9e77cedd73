"""Constants of nature as the formulas of this room use them.

Source: SI 2019 and CODATA, the wave impedance rounded to two decimals. Status: memory.
"""

SPEED_OF_LIGHT_M_PER_S = 299_792_458.0
VACUUM_PERMEABILITY_H_PER_M = 1.25663706e-6
WAVE_IMPEDANCE_OHM = 376.73
EULER = 0.5772156649015329
"""Euler's constant gamma."""


def wavelength_m(frequency_mhz: float) -> float:
    """The wavelength in free space."""
    return SPEED_OF_LIGHT_M_PER_S / (frequency_mhz * 1e6)
