"""Conductors by the everyday name of their metal."""

from service.radio.coatings import coating
from service.radio.conductor import Conductor
from service.radio.conductors import material


def made(
    name: str,
    diameter_mm: float = 2.0,
    length_mm: float = 600.0,
    *,
    form: str = "wire",
    coat: str | None = None,
) -> Conductor:
    metal = material(name)
    assert metal is not None
    return Conductor(metal, coating(name, coat), form, diameter_mm, length_mm)
