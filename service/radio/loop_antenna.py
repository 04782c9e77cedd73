"""The circular loop of one turn: its current, radiation resistance and impedance.

The current is the Fourier series of a thin-wire loop fed at one point: I(phi) is proportional to
1/a_0 + 2 sum cos(n phi) / a_n, with a_n = (kb/2)(N_(n+1) + N_(n-1)) - (n^2 / kb) N_n. Sources: Storer 1956,
Wu 1962, King and Harrison, as given by Balanis, *Antenna Theory*, chapter 5 (equation numbers from memory);
checked against published values at one wavelength. b is the radius of the loop, a that of its wire.
"""

import cmath
import math
from dataclasses import dataclass
from functools import lru_cache

from service.radio.constants import EULER, WAVE_IMPEDANCE_OHM

CURRENT_HARMONICS = 12
IMPEDANCE_HARMONICS = 40
STEPS = 160
ANGLES = 60
Table = tuple[tuple[complex, ...], ...]


@dataclass(frozen=True)
class LoopCurrent:
    """What a loop radiates and loses, both referred to the largest current along it.

    `mean_square` is the mean square of the current over the wire, in units of that of the largest.
    """

    radiation_ohm: float
    mean_square: float


def small_loop_ohm(circumference: float, *, turns: int = 1) -> float:
    """Radiation resistance of a small loop, 20 pi^2 C^4 N^2 with C in wavelengths.

    Valid below about a tenth of a wavelength (1.12 times too low there). Source: Balanis chapter 5.
    """
    return 20 * math.pi**2 * circumference**4 * turns**2


@lru_cache(maxsize=4096)
def loop_current(circumference: float, wire: float) -> LoopCurrent:
    """The current of a loop of this circumference and wire circumference, both in wavelengths."""
    modes = _modes(circumference, wire / circumference, CURRENT_HARMONICS)
    admittance = _admittance(modes)
    at_feed = abs(_current(modes, 0.0)) ** 2
    largest = max(abs(_current(modes, math.pi * step / ANGLES)) ** 2 for step in range(ANGLES + 1))
    mean = abs(modes[0]) ** 2 + 2 * sum(abs(mode) ** 2 for mode in modes[1:])
    resistance = (1 / admittance).real
    return LoopCurrent(resistance * at_feed / largest, mean / largest)


@lru_cache(maxsize=4096)
def loop_impedance_ohm(circumference: float, wire: float) -> complex:
    """The impedance at the feed point of a loop without loss; lengths in wavelengths.

    The series is cut at harmonic 40: the capacitance across an idealised gap has no limit.
    """
    return 1 / _admittance(_modes(circumference, wire / circumference, IMPEDANCE_HARMONICS))


def _modes(circumference: float, ratio: float, harmonics: int) -> tuple[complex, ...]:
    """1 / a_n for n from 0; `ratio` is a/b, kb is the circumference in wavelengths."""
    kernel = _kernel(circumference, ratio, harmonics)
    return tuple(
        1 / (circumference / 2 * (kernel[n + 1] + kernel[abs(n - 1)]) - n * n / circumference * kernel[n])
        for n in range(harmonics + 1)
    )


def _admittance(modes: tuple[complex, ...]) -> complex:
    return (modes[0] + 2 * sum(modes[1:])) / (1j * math.pi * WAVE_IMPEDANCE_OHM)


def _current(modes: tuple[complex, ...], angle: float) -> complex:
    return modes[0] + 2 * sum(mode * math.cos(n * angle) for n, mode in enumerate(modes[1:], start=1))


def _kernel(circumference: float, ratio: float, harmonics: int) -> list[complex]:
    """N_n for n from 0 to one above the harmonics."""
    moments = _moments(2 * circumference, harmonics + 1)
    near = [math.log(8 / ratio) / math.pi]
    odd = 0.0
    for n in range(1, harmonics + 2):
        odd += 1 / (2 * n - 1)
        near.append((_bessel_product(n * ratio) + math.log(4 * n) + EULER - 2 * odd) / math.pi)
    return [own - far / 2 for own, far in zip(near, moments, strict=True)]


@lru_cache(maxsize=512)
def _moments(span: float, harmonics: int) -> list[complex]:
    """The integral of Omega_2n(x) + j J_2n(x) over x from 0 to `span`, for n from 0.

    Omega is the Lommel-Weber function. Done over x by hand, over the angle by Simpson's rule.
    """
    ends = [1j * span]
    ends += [
        (1 - cmath.exp(-1j * span * sine)) / sine
        for sine in (math.sin(math.pi * step / STEPS) for step in range(1, STEPS))
    ]
    ends.append(1j * span)
    return [sum(map(complex.__mul__, weights, ends)) for weights in _weights(harmonics)]


@lru_cache(maxsize=4)
def _weights(harmonics: int) -> Table:
    """Simpson's weights times exp(2 j n angle), over pi."""
    simpson = [1.0] + [4.0 if step % 2 else 2.0 for step in range(1, STEPS)] + [1.0]
    return tuple(
        tuple(
            weight / (3 * STEPS) * cmath.exp(2j * n * math.pi * step / STEPS)
            for step, weight in enumerate(simpson)
        )
        for n in range(harmonics + 1)
    )


def _bessel_product(x: float) -> float:
    """K_0(x) I_0(x) by their power series; good to x of about 8."""
    term, first, second, harmonic, k = 1.0, 1.0, 0.0, 0.0, 0
    while term > 1e-17 * first:
        k += 1
        term *= (x / 2) ** 2 / k**2
        harmonic += 1 / k
        first += term
        second += term * harmonic
    return first * (second - (math.log(x / 2) + EULER) * first)
