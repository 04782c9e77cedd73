"""From an element of a trial to the conductor that it is, or what is wanting to know it."""

from dataclasses import dataclass

from service.radio.coatings import coating, coating_class, coating_words, readable
from service.radio.conductor import STRIP_OVER_ROUND, Conductor
from service.radio.conductors import MATERIAL_NAMES, material
from service.radio.gauges import gauge_mm, meanings_mm, numbers_known
from service.trial.trial import Element

USUAL_FORM = "wire"


@dataclass(frozen=True)
class Wanting:
    """A field of an element without which its conductor is not known, and what to do about it."""

    field: str
    detail: str


def conductor_of(element: Element, *, length_mm: float | None = None) -> Conductor | tuple[Wanting, ...]:
    """The conductor, or everything that is wanting.

    `length_mm` stands for the element's own where that is not given; without a form it is a wire.
    """
    metal = None if element.material is None else material(element.material)
    diameter = diameter_mm(element)
    length = element.length_mm or length_mm
    faults = (
        *_material_faults(element),
        *_class_faults(element, diameter),
        *_diameter_faults(element, diameter),
        *_length_faults(length),
    )
    if faults or element.material is None or metal is None or diameter is None or length is None:
        return faults
    coat = coating(element.material, element.coating, diameter_mm=diameter)
    return Conductor(metal, coat, element.form or USUAL_FORM, diameter, length)


def diameter_mm(element: Element) -> float | None:
    """The diameter as given, else by its gauge where that names its table."""
    gauge = element.gauge
    if element.diameter_mm is not None or gauge is None or gauge.table is None:
        return element.diameter_mm
    return gauge_mm(gauge.table, gauge.number)


def round_diameter_mm(element: Element) -> float | None:
    """The diameter of a round wire that acts alike on the fields: of a strip half its width.

    Source: see `Conductor.radius_m`.
    """
    diameter = diameter_mm(element)
    return diameter / STRIP_OVER_ROUND if diameter is not None and element.form == "strip" else diameter


def meanings(number: int) -> str:
    """What a bare gauge number may mean, in words."""
    found = ", ".join(f"{diameter:.2f} mm in {table}" for table, diameter in meanings_mm(number).items())
    return found or "a diameter in no table known here"


def _material_faults(element: Element) -> tuple[Wanting, ...]:
    known = f"Known are {', '.join(MATERIAL_NAMES)}."
    faults = []
    if element.material is None:
        faults.append(Wanting("material", f"This is required. {known}"))
    elif material(element.material) is None:
        faults.append(Wanting("material", f"No resistivity is known for it. {known}"))
    if element.coating is not None and not readable(element.coating):
        faults.append(Wanting("coating", f"This coating is not understood. Give {coating_words()}."))
    return tuple(faults)


def _class_faults(element: Element, diameter: float | None) -> tuple[Wanting, ...]:
    """A class of zinc says nothing of wire outside its table."""
    known = coating_class(element.coating)
    if known is None or diameter is None or known.least_g_per_m2(diameter) is not None:
        return ()
    told = f"Of {known.name} the diameters {known.diameters} are known here; this is {diameter:.2f} mm"
    return (Wanting("coating", f"{told}. Give the mass or the thickness (zinc 275 g/m2, zinc 20 um)."),)


def _diameter_faults(element: Element, diameter: float | None) -> tuple[Wanting, ...]:
    if diameter is not None:
        return ()
    gauge = element.gauge
    if gauge is None:
        told = "This is required (of a strip its width), or diameter with its unit, or a gauge and table."
        return (Wanting("diameter_mm", told),)
    if gauge.table is None:
        told = f"Number {gauge.number} alone means {meanings(gauge.number)}"
        return (Wanting("gauge", f"{told}. Name the table, or give diameter_mm."),)
    told = f"Of the table {gauge.table} the numbers {numbers_known(gauge.table)} are known here"
    return (Wanting("gauge", f"{told}; give diameter_mm."),)


def _length_faults(length: float | None) -> tuple[Wanting, ...]:
    if length is not None:
        return ()
    return (Wanting("length_mm", "This is required: the length of the conductor; or length with its unit."),)
