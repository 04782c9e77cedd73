"""Levels in decibels: from one unit to another.

A level in dBm is a power, one in dBuV or dBmV a voltage; only the impedance joins the two:
dBuV = dBm + 90 + 10 log10(Z), since 1 mW in Z ohm is sqrt(Z / 1000) V. dBmV = dBuV - 60 by the prefixes
alone. A plain dB is a ratio to something that nobody stated, so it is not converted.
"""

import math

VOLTAGES_DBUV = {"dBuV": 0.0, "dBmV": 60.0}
"""What is added to a level in this unit to give dBuV."""
POWER = "dBm"
LEVELS = (*VOLTAGES_DBUV, POWER)


def level_shift(unit: str, into: str, impedance_ohm: float | None) -> float | None:
    """What is added to a level in `unit` to give it in `into`.

    None where the two cannot be converted: one of them is no level, or one is a power, the other a voltage
    and the impedance is not known.
    """
    if unit == into:
        return 0.0
    own, other = (_above_dbuv(each, impedance_ohm) for each in (unit, into))
    return None if own is None or other is None else own - other


def needs_impedance(unit: str, into: str) -> bool:
    """Whether levels in `unit` could be given in `into` if only the impedance were known."""
    return unit != into and {unit, into} <= set(LEVELS) and POWER in (unit, into)


def _above_dbuv(unit: str, impedance_ohm: float | None) -> float | None:
    if unit != POWER:
        return VOLTAGES_DBUV.get(unit)
    return None if impedance_ohm is None else 90 + 10 * math.log10(impedance_ohm)
