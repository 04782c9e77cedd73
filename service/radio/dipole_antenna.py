"""The thin dipole fed at its centre, with a sinusoidal current: radiation resistance, loss factor, impedance.

Induced-EMF formulas. Source: Balanis, *Antenna Theory*, chapter 8 (equation numbers from memory). Lengths are
in wavelengths; resistances are referred to the largest current of the sinusoid.
"""

import math

from service.radio.constants import EULER, WAVE_IMPEDANCE_OHM


def dipole_ohm(length: float) -> float:
    """Radiation resistance of a dipole of this length; 73.1 ohm at half a wavelength."""
    kl = 2 * math.pi * length
    bracket = (
        EULER
        + math.log(kl)
        - cosine_integral(kl)
        + 0.5 * math.sin(kl) * (sine_integral(2 * kl) - 2 * sine_integral(kl))
        + 0.5 * math.cos(kl) * (EULER + math.log(kl / 2) + cosine_integral(2 * kl) - 2 * cosine_integral(kl))
    )
    return WAVE_IMPEDANCE_OHM / (2 * math.pi) * bracket


def dipole_mean_square(length: float) -> float:
    """Mean square of the current along the wire, in units of that of the largest current there is on it."""
    kl = 2 * math.pi * length
    mean = 0.5 * (1 - math.sin(kl) / kl)
    return mean / dipole_largest(length)


def dipole_largest(length: float) -> float:
    """The square of the largest current on the wire, in units of that of the sinusoid's maximum."""
    return 1.0 if length >= 0.5 else math.sin(math.pi * length) ** 2


def dipole_impedance_ohm(length: float, radius: float) -> complex:
    """The impedance at the feed point of a dipole without loss."""
    kl = 2 * math.pi * length
    reactance = (
        WAVE_IMPEDANCE_OHM
        / (4 * math.pi)
        * (
            2 * sine_integral(kl)
            + math.cos(kl) * (2 * sine_integral(kl) - sine_integral(2 * kl))
            - math.sin(kl)
            * (
                2 * cosine_integral(kl)
                - cosine_integral(2 * kl)
                - cosine_integral(4 * math.pi * radius**2 / length)
            )
        )
    )
    return complex(dipole_ohm(length), reactance) / math.sin(kl / 2) ** 2


def sine_integral(x: float) -> float:
    """Si(x) by its power series; good to ten digits up to x of about 15."""
    term, total, n = x, x, 1
    while abs(term) > 1e-17 * max(1.0, abs(total)):
        n += 2
        term *= -x * x / (n * (n - 1))
        total += term / n
    return total


def cosine_integral(x: float) -> float:
    """Ci(x) by its power series; good to ten digits up to x of about 15."""
    term, total, n = 1.0, 0.0, 0
    while n < 4 or abs(term) > 1e-17 * max(1.0, abs(total)):
        n += 2
        term *= -x * x / (n * (n - 1))
        total += term / n
    return EULER + math.log(x) + total
