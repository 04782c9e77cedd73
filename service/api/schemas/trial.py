"""The trial document."""

from marshmallow import fields, validate

from service.api.schemas.closed import ClosedSchema
from service.radio.meters import UNIT_NAMES
from service.trial.trial import COMPARES, FORMS, GAUGE_TABLES, LOOKS, REGIONS

TEXT = validate.Length(max=200)
SOME_TEXT = validate.Length(min=1, max=200)


def told(description: str) -> dict[str, str]:
    """The metadata of a field: what it means."""
    return {"description": description}


class MeterSchema(ClosedSchema):
    """The meter that gave the readings."""

    unit = fields.String(
        required=True, validate=validate.OneOf(UNIT_NAMES), metadata=told("Of the readings.")
    )
    lowest = fields.Float(allow_none=True, metadata=told("Lowest end of the scale; bars and percent: 0."))
    highest = fields.Float(allow_none=True, metadata=told("Highest end of the scale; percent: 100."))
    resolution = fields.Float(allow_none=True, metadata=told("Smallest step shown; bars and percent: 1."))
    needed = fields.Float(allow_none=True, metadata=told("Level in dB at which reception fails."))
    impedance_ohm = fields.Float(allow_none=True, metadata=told("Impedance, for converting dB units."))


class CostSchema(ClosedSchema):
    """An amount of money."""

    amount = fields.Float(required=True, validate=validate.Range(min=0))
    currency = fields.String(required=True, validate=SOME_TEXT)


class GaugeSchema(ClosedSchema):
    """A number in a wire gauge table."""

    table = fields.String(allow_none=True, validate=validate.OneOf(GAUGE_TABLES))
    number = fields.Integer(required=True)


class ElementSchema(ClosedSchema):
    """One element under test."""

    id = fields.String(required=True, validate=SOME_TEXT, metadata=told("Name used in the readings."))
    label = fields.String(allow_none=True, validate=TEXT, metadata=told("Name shown; the id by default."))
    material = fields.String(allow_none=True, validate=TEXT)
    form = fields.String(allow_none=True, validate=validate.OneOf(FORMS))
    diameter_mm = fields.Float(allow_none=True, metadata=told("Of a strip its width."))
    diameter = fields.String(
        allow_none=True, validate=TEXT, metadata=told("Instead: the diameter with its unit, 1/8 in.")
    )
    length_mm = fields.Float(allow_none=True)
    length = fields.String(
        allow_none=True, validate=TEXT, metadata=told("Instead: the length with its unit, 2 ft 3 in.")
    )
    gauge = fields.Nested(GaugeSchema, allow_none=True)
    coating = fields.String(
        allow_none=True,
        validate=TEXT,
        metadata=told("zinc, zinc 20 um, zinc 275 g/m2, astm a641 class 3, enamel, none."),
    )
    condition = fields.String(allow_none=True, validate=TEXT)
    cost = fields.Nested(CostSchema, allow_none=True)
    cost_per_metre = fields.Nested(CostSchema, allow_none=True)
    minutes_to_make = fields.Float(allow_none=True)
    twin_of = fields.String(allow_none=True, metadata=told("A second copy of that element."))
    pad_of = fields.String(allow_none=True, metadata=told("That element with an attenuator in line."))
    pad_db = fields.Float(allow_none=True, metadata=told("Attenuation of the pad in dB."))


class ChannelSchema(ClosedSchema):
    """One channel of the tuner and the RF channel that carries it."""

    id = fields.String(required=True, validate=SOME_TEXT)
    label = fields.String(allow_none=True, validate=TEXT)
    rf_channel = fields.String(allow_none=True, validate=SOME_TEXT)


class StrikeSchema(ClosedSchema):
    """A run taken out openly."""

    element = fields.String(required=True, validate=SOME_TEXT)
    round = fields.Integer(required=True)
    reason = fields.String(required=True, validate=SOME_TEXT)


class KnownRepeatabilitySchema(ClosedSchema):
    """A repeatability standard deviation that was measured before this trial."""

    sd = fields.Float(required=True, metadata=told("Of the score over rf_channels, in meter units."))
    degrees_of_freedom = fields.Float(required=True)
    rf_channels = fields.List(fields.String(), required=True)
    source = fields.String(data_key="from", allow_none=True, validate=TEXT)


class TrialSchema(ClosedSchema):
    """What was tried, with what meter, and what counts as a difference. Only meter.unit is required."""

    title = fields.String(allow_none=True, validate=TEXT)
    meter = fields.Nested(MeterSchema, required=True)
    margin = fields.Float(
        allow_none=True, metadata=told("Smallest difference in score that you would act on.")
    )
    confidence = fields.Float(
        allow_none=True, validate=validate.Range(min=0.80, max=0.99), metadata=told("0.95 by default.")
    )
    planned_rounds = fields.Integer(
        allow_none=True, validate=validate.Range(min=1), metadata=told("6 by default.")
    )
    looks = fields.String(allow_none=True, validate=validate.OneOf(LOOKS))
    reference = fields.String(allow_none=True, metadata=told("The element that is run in every round."))
    region = fields.String(allow_none=True, validate=validate.OneOf(REGIONS))
    seed = fields.Integer(allow_none=True, metadata=told("1 by default."))
    compares = fields.String(allow_none=True, validate=validate.OneOf(COMPARES))
    elements = fields.List(fields.Nested(ElementSchema), allow_none=True)
    channels = fields.List(fields.Nested(ChannelSchema), allow_none=True)
    struck = fields.List(fields.Nested(StrikeSchema), allow_none=True)
    known_repeatability = fields.Nested(KnownRepeatabilitySchema, allow_none=True)
    minutes_per_run = fields.Float(allow_none=True)
    taken_by = fields.String(allow_none=True, validate=TEXT)
    site = fields.String(allow_none=True, validate=TEXT)
