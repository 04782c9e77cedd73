"""What conductor loss alone could explain between two conductors of one antenna.

Loss resistance RL = k R' L with k the mean square of the current; efficiency -10 log10(1 + RL / Rr); the
difference the metals make is that of the efficiencies with the shapes held equal. The bound takes k = 1, the
smallest plausible Rr and what the load can make of it: with x = dRL / Rr the larger of 10 log10(1 + x) and
20 log10(1 + x R / |Z + ZL|), where R / |Z + ZL| is at most 1 and is taken as 1 where no load is stated; the
first is 4.343 x for small losses. All of it is loss alone: the shape of a conductor shifts the resonance too,
and a poor joint may cost more than any metal. Source: Balanis, *Antenna Theory*, chapters 2, 4 and 5, and the
Fourier series of the loop; status computed.
"""

import math
from dataclasses import dataclass
from typing import Final

from service.radio.antenna import Radiation, impedance_ohm, radiation
from service.radio.between import Between, exactly, spanning
from service.radio.conductor import Conductor, roughness
from service.radio.formula_limits import FormulaLimit, limits_of, told

ONE_DB: Final = 10**0.1 - 1


@dataclass(frozen=True)
class Loss:
    """What one conductor loses at a frequency."""

    skin_depth_um: Between
    surface_resistance_mohm: Between
    loss_ohm: Between
    efficiency_db: Between

    def document(self) -> dict[str, object]:
        """Each quantity (null where only its ends are known), and all ends under `ranges`; JSON-ready."""
        parts = {name: getattr(self, name) for name in self.__dataclass_fields__}
        ranges = {name: part.document() for name, part in parts.items()}
        return {name: part.value for name, part in parts.items()} | {"ranges": ranges}


@dataclass(frozen=True)
class Comparison:
    """Two conductors at a frequency; differences are first - second, above 0 where the first is better.

    `limits` are the reasons why there are only bounds, none where the formula holds.
    """

    frequency_mhz: float
    first: Loss
    second: Loss
    metal_difference_db: Between
    metal_difference_bound_db: float
    geometry_difference_db: Between | None
    joint_ohm_for_one_db: float
    valid: bool
    limits: tuple[FormulaLimit, ...]

    def document(self) -> dict[str, object]:
        """The comparison, JSON-ready; a difference is null where only its ends are known."""
        metal, shape = self.metal_difference_db, self.geometry_difference_db
        return {
            "frequency_mhz": self.frequency_mhz,
            "first": self.first.document(),
            "second": self.second.document(),
            "metal_difference_db": metal.value,
            "metal_difference_range_db": metal.document(),
            "metal_difference_bound_db": self.metal_difference_bound_db,
            "geometry_difference_db": None if shape is None else shape.value,
            "geometry_difference_range_db": None if shape is None else shape.document(),
            "joint_ohm_for_one_db": self.joint_ohm_for_one_db,
            "valid": self.valid,
            **told(self.limits),
        }


def compare(
    first: Conductor, second: Conductor, kind: str, *, frequency_mhz: float, load_ohm: float | None = None
) -> Comparison:
    """Both conductors as the antenna of that kind (`antenna.KINDS`), at one frequency."""
    pair = (first, second)
    waves = tuple(radiation(kind, conductor, frequency_mhz) for conductor in pair)
    losses = [_loss(conductor, wave, frequency_mhz) for conductor, wave in zip(pair, waves, strict=True)]
    formula = all(wave.resistance_ohm is not None for wave in waves)
    thick = all(conductor.is_thick(frequency_mhz * 1e6) for conductor in pair)
    impedances = [impedance_ohm(kind, c, frequency_mhz) for c in pair] if formula and load_ohm else []
    known = all(loss.efficiency_db.value is not None for loss in losses)
    least = min(wave.least_ohm for wave in waves)
    more = _more_loss(pair, frequency_mhz * 1e6) / least
    return Comparison(
        frequency_mhz=frequency_mhz,
        first=losses[0],
        second=losses[1],
        metal_difference_db=_metal(pair, waves, frequency_mhz * 1e6),
        metal_difference_bound_db=_bound(more, _share(impedances, load_ohm)),
        geometry_difference_db=_geometry(pair, waves, impedances, at=(frequency_mhz * 1e6, load_ohm)),
        joint_ohm_for_one_db=least * ONE_DB,
        valid=formula and thick,
        limits=limits_of([wave.limit for wave in waves], thick=thick, known=known),
    )


def _loss(conductor: Conductor, wave: Radiation, frequency_mhz: float) -> Loss:
    frequency_hz = frequency_mhz * 1e6
    rough = roughness(conductor.form)
    loss = _loss_ohm(conductor, wave, frequency_hz).times(rough.low, rough.high)
    return Loss(
        skin_depth_um=conductor.skin_depth_m(frequency_hz).times(1e6),
        surface_resistance_mohm=conductor.surface_resistance_ohm(frequency_hz).times(1e3),
        loss_ohm=loss,
        efficiency_db=_efficiency(loss, wave),
    )


def _loss_ohm(conductor: Conductor, wave: Radiation, frequency_hz: float) -> Between:
    """RL of the smooth conductor, referred to the largest current."""
    whole = conductor.smooth_ohm_per_m(frequency_hz).times(conductor.length_mm / 1e3)
    return whole.times(wave.mean_square.low, wave.mean_square.high)


def _efficiency(loss: Between, wave: Radiation) -> Between:
    if wave.resistance_ohm is None:
        return Between(_decibels(loss.high, wave.least_ohm), 0.0)
    return Between(_decibels(loss.high, wave.resistance_ohm), _decibels(loss.low, wave.resistance_ohm))


def _decibels(loss_ohm: float, radiation_ohm: float) -> float:
    return -10 * math.log10(1 + loss_ohm / radiation_ohm)


def _metal(pair: tuple[Conductor, ...], waves: tuple[Radiation, ...], frequency_hz: float) -> Between:
    """Difference of the efficiencies with equal shapes, the mean of both shapes."""
    if pair[0].metal == pair[1].metal:
        return exactly(0.0)
    by_shape = [
        _metal_in_shape(pair, shape, wave, frequency_hz) for shape, wave in zip(pair, waves, strict=True)
    ]
    return Between(sum(part.low for part in by_shape) / 2, sum(part.high for part in by_shape) / 2)


def _metal_in_shape(
    pair: tuple[Conductor, ...], shape: Conductor, wave: Radiation, frequency_hz: float
) -> Between:
    """The same with both metals in one shape, which they share, its roughness included."""
    losses = [_loss_ohm(metal.shaped_as(shape), wave, frequency_hz) for metal in pair]
    rough = roughness(shape.form)
    found = []
    for times in (rough.low, rough.high):
        first, second = (_efficiency(loss.times(times), wave) for loss in losses)
        found += [first.low - second.high, first.high - second.low]
    return spanning(found)


def _more_loss(pair: tuple[Conductor, ...], frequency_hz: float) -> float:
    """How much more one metal may lose in the worse of both shapes, the current as large everywhere; ohm."""
    if pair[0].metal == pair[1].metal:
        return 0.0
    most = 0.0
    for shape in pair:
        metals = [metal.shaped_as(shape).smooth_ohm_per_m(frequency_hz) for metal in pair]
        first, second = (metal.times(shape.length_mm / 1e3) for metal in metals)
        widest = max(first.high - second.low, second.high - first.low)
        most = max(most, widest * roughness(shape.form).high)
    return most


def _bound(more: float, share: float) -> float:
    """The difference that so much more loss, in units of Rr, can make at most."""
    return max(10 * math.log10(1 + more), 20 * math.log10(1 + more * share))


def _share(impedances: list[complex], load_ohm: float | None) -> float:
    """R / |Z + ZL|: how much of what the load sees is radiation; 1 is the most there is."""
    if not impedances or load_ohm is None:
        return 1.0
    return max(impedance.real / abs(impedance + load_ohm) for impedance in impedances)


def _geometry(
    pair: tuple[Conductor, ...],
    waves: tuple[Radiation, ...],
    impedances: list[complex],
    *,
    at: tuple[float, float | None],
) -> Between | None:
    """What the shapes make with equal metals: by the impedance that the load sees, and by the loss."""
    frequency_hz, load_ohm = at
    if pair[0].shape == pair[1].shape:
        return exactly(0.0)
    if not impedances or load_ohm is None:
        return None
    first, second = (abs(impedance + load_ohm) for impedance in impedances)
    matched = 20 * math.log10(second / first)
    parts = [_shape_of_metal(pair, metal, waves, frequency_hz) for metal in pair]
    low, high = (sum(part.low for part in parts) / 2, sum(part.high for part in parts) / 2)
    return Between(matched + low, matched + high)


def _shape_of_metal(
    pair: tuple[Conductor, ...], metal: Conductor, waves: tuple[Radiation, ...], frequency_hz: float
) -> Between:
    first, second = (
        _loss(metal.shaped_as(shape), wave, frequency_hz / 1e6).efficiency_db
        for shape, wave in zip(pair, waves, strict=True)
    )
    return Between(first.low - second.high, first.high - second.low)
