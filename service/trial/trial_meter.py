"""The `meter` object of the trial document, and what follows from it for the margin."""

from service.radio.meters import UNIT_NAMES, UnitRules, unit_rules
from service.trial.document_fields import Fields
from service.trial.trial import Meter

METER_FIELDS = ("unit", "lowest", "highest", "resolution", "needed", "impedance_ohm")
HIGHEST_IMPEDANCE_OHM = 10_000


def checked_meter(trial: Fields) -> Meter | None:
    """The meter with the unit's usual scale filled in; None, the fault noted, where it cannot be used."""
    if not trial.has("meter"):
        trial.fault("meter", f'This is required: give {{"unit": ...}} with one of {", ".join(UNIT_NAMES)}.')
        return None
    fields = trial.nested("meter", METER_FIELDS)
    unit = None if fields is None else fields.choice("unit", UNIT_NAMES, required=True)
    if fields is None or unit is None:
        return None
    return _scale(fields, unit_rules(unit))


def _scale(fields: Fields, rules: UnitRules) -> Meter | None:
    lowest = _or_usual(fields.number("lowest", rules.least, rules.most), rules.lowest)
    highest = _or_usual(fields.number("highest", rules.least, rules.most), rules.highest)
    if lowest is not None and highest is not None and lowest >= highest:
        fields.fault("highest", f"The highest level must lie above the lowest, which is {lowest:g}.")
        return None
    width = _width(rules, lowest, highest)
    resolution = fields.number("resolution", 0, width, above=True)
    if fields.has("needed") and not rules.is_decibel:
        fields.fault(
            "needed", f"The level that reception needs is in decibels; a meter in {rules.unit} has none."
        )
    return Meter(
        unit=rules.unit,
        lowest=lowest,
        highest=highest,
        resolution=_or_usual(resolution, _at_most(width, rules.resolution)),
        needed=fields.number("needed", rules.least, rules.most) if rules.is_decibel else None,
        impedance_ohm=fields.number("impedance_ohm", 0, HIGHEST_IMPEDANCE_OHM, above=True),
        resolution_stated=resolution is not None,
    )


def margin_bounds(meter: Meter | None) -> tuple[float, float]:
    """The largest margin that makes sense on this meter (the width of its scale) and the usual one.

    The usual margin and the usual step are never wider than the scale itself.
    """
    if meter is None:
        return 1e6, 1.0
    rules = unit_rules(meter.unit)
    width = _width(rules, meter.lowest, meter.highest)
    return width, min(width, rules.default_margin(meter.lowest, meter.highest))


def _width(rules: UnitRules, lowest: float | None, highest: float | None) -> float:
    return _or(highest, rules.most) - _or(lowest, rules.least)


def _at_most(width: float, usual: float | None) -> float | None:
    return None if usual is None else min(width, usual)


def _or_usual(stated: float | None, usual: float | None) -> float | None:
    return usual if stated is None else stated


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value
