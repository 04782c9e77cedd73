"""The unit that a table states in its headings, against that of the meter."""

from dataclasses import dataclass

from service.errors import Fault
from service.intake.headings import LONG, WIDE_HEADINGS, Heading, heading_fault
from service.radio.decibels import level_shift, needs_impedance
from service.trial.trial import Meter


@dataclass(frozen=True)
class FileUnit:
    """The unit that the values of a table are in (None: nobody said), what is added to give the unit of the
    meter, and what is told of it."""

    unit: str | None
    shift: float = 0.0
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def file_unit(heading: Heading, meter: Meter | None) -> FileUnit:
    """The unit of a table below this heading; without a unit the meter has none to disagree with."""
    stated = {
        heading.units[place]: place for place in reversed(_value_columns(heading)) if heading.units[place]
    }
    own = meter.unit if meter is not None and meter.unit else None
    if not stated:
        return FileUnit(own)
    unit, *others = sorted(stated, key=lambda each: stated[each])
    if others:
        detail = f"Another column is in {unit}. Give all readings in one unit."
        return FileUnit(None, faults=tuple(heading_fault(heading, stated[each], detail) for each in others))
    shift = 0.0 if meter is None or own is None else level_shift(str(unit), own, meter.impedance_ohm)
    if shift is None:
        detail = _disagreement(str(unit), str(own))
        return FileUnit(unit, faults=(heading_fault(heading, stated[unit], detail),))
    return FileUnit(unit, shift, _told(unit, meter, shift) if meter is not None and shift else ())


def _value_columns(heading: Heading) -> list[int]:
    if heading.form == LONG:
        return [place for place, name in enumerate(heading.names) if name == "value"]
    return [place for place, name in enumerate(heading.names) if name not in WIDE_HEADINGS]


def _disagreement(unit: str, own: str) -> str:
    if needs_impedance(unit, own):
        return (
            f"These readings are in {unit}, the meter is in {own}. State the impedance that joins the two, "
            f"meter.impedance_ohm (75 for a television antenna), or the unit {unit} for the meter."
        )
    return (
        f"These readings are in {unit}, the meter is in {own}, and one cannot be made of the other. Mend the "
        f"heading, or state the unit {unit} for the meter."
    )


def _told(unit: str | None, meter: Meter, shift: float) -> tuple[str, ...]:
    ohm = f" at {meter.impedance_ohm:g} ohm" if needs_impedance(str(unit), meter.unit) else ""
    return (f"{unit} was converted to {meter.unit}{ohm}: {shift:+.6g} dB for every reading",)
