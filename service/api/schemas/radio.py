"""Channel plans, and what conductor loss could explain."""

from marshmallow import Schema, fields, validate

from service.api.schemas.closed import ClosedSchema
from service.api.schemas.trial import ElementSchema, told
from service.radio.antenna import KINDS
from service.radio.channel_plan import REGIONS
from service.radio.formula_limits import CODES


class PlanHeadingSchema(Schema):
    """A channel plan and how far it can be trusted."""

    id = fields.String(required=True, metadata={"enum": list(REGIONS)})
    title = fields.String(required=True)
    source = fields.String(required=True, metadata=told("Where the numbers come from."))
    status = fields.String(required=True, metadata=told("How the source was seen; memory: not looked up."))
    edition = fields.String(required=True, metadata=told("The edition of the source."))
    date = fields.Date(required=True, metadata=told("When the plan was entered here."))


class PlansSchema(Schema):
    """Every channel plan there is."""

    regions = fields.List(fields.Nested(PlanHeadingSchema), required=True)


class PlannedChannelSchema(Schema):
    """One RF channel."""

    rf_channel = fields.String(required=True, metadata=told("A text: not all are numbers."))
    low_mhz = fields.Float(required=True)
    high_mhz = fields.Float(required=True)
    centre_mhz = fields.Float(required=True)
    band = fields.String(required=True)
    wavelength_m = fields.Float(required=True, metadata=told("In free space, at the centre."))


class PlanSchema(PlanHeadingSchema):
    """A channel plan with its channels."""

    cautions = fields.List(fields.String(), required=True)
    channels = fields.List(fields.Nested(PlannedChannelSchema), required=True)


class LossElementSchema(ElementSchema):
    """An element: material, length, and diameter or gauge with its table. The id may be left out."""

    id = fields.String(metadata=told("Name; first or second by default."))


class AntennaSchema(ClosedSchema):
    """The antenna that both are conductors of."""

    kind = fields.String(required=True, validate=validate.OneOf(KINDS))
    length_mm = fields.Float(allow_none=True, metadata=told("Where an element gives no length of its own."))
    length = fields.String(allow_none=True, metadata=told("Instead: the length with its unit, 2 ft 3 in."))


class LossQuestionSchema(ClosedSchema):
    """Two elements of one antenna, at RF channels of a region or at frequencies."""

    first = fields.Nested(LossElementSchema, required=True)
    second = fields.Nested(LossElementSchema, required=True)
    region = fields.String(allow_none=True, validate=validate.OneOf(REGIONS))
    rf_channels = fields.List(fields.String(), metadata=told("With the region; no displayed numbers."))
    frequencies_mhz = fields.List(fields.Float(), metadata=told("Instead of the RF channels."))
    antenna = fields.Nested(AntennaSchema, required=True)
    load_ohm = fields.Float(allow_none=True, metadata=told("What the antenna feeds; 300 by default."))


class BetweenSchema(Schema):
    """From the least to the most; both are one where the quantity is known."""

    low = fields.Float(required=True)
    high = fields.Float(required=True)


class LossRangesSchema(Schema):
    """The ends of each quantity."""

    skin_depth_um = fields.Nested(BetweenSchema, required=True)
    surface_resistance_mohm = fields.Nested(BetweenSchema, required=True)
    loss_ohm = fields.Nested(BetweenSchema, required=True)
    efficiency_db = fields.Nested(BetweenSchema, required=True)


class LossSchema(Schema):
    """What one element loses; null where only the ends are known."""

    skin_depth_um = fields.Float(required=True, allow_none=True)
    surface_resistance_mohm = fields.Float(required=True, allow_none=True)
    loss_ohm = fields.Float(required=True, allow_none=True, metadata=told("At the largest current."))
    efficiency_db = fields.Float(required=True, allow_none=True)
    ranges = fields.Nested(LossRangesSchema, required=True)


class LossReasonSchema(Schema):
    """Why only bounds are known, as a code; `why` says it in words."""

    code = fields.String(required=True, metadata={"enum": list(CODES)})
    evidence = fields.Dict(
        keys=fields.String(),
        values=fields.Float(),
        required=True,
        metadata=told("The numbers in the sentence."),
    )


class LossRowSchema(Schema):
    """Both at one frequency; differences are first less second."""

    rf_channel = fields.String(required=True, allow_none=True)
    frequency_mhz = fields.Float(required=True)
    first = fields.Nested(LossSchema, required=True)
    second = fields.Nested(LossSchema, required=True)
    metal_difference_db = fields.Float(
        required=True, allow_none=True, metadata=told("With the shapes held equal.")
    )
    metal_difference_range_db = fields.Nested(BetweenSchema, required=True)
    metal_difference_bound_db = fields.Float(required=True, metadata=told("The most the metals can make."))
    geometry_difference_db = fields.Float(
        required=True, allow_none=True, metadata=told("What the shapes make, with the metals held equal.")
    )
    geometry_difference_range_db = fields.Nested(BetweenSchema, required=True, allow_none=True)
    joint_ohm_for_one_db = fields.Float(
        required=True, metadata=told("A joint of this resistance, where the current is largest, costs 1 dB.")
    )
    valid = fields.Boolean(required=True, metadata=told("Whether the formulas hold; bounds always do."))
    why = fields.String(required=True)
    reasons = fields.List(
        fields.Nested(LossReasonSchema), required=True, metadata=told("Empty where the formula holds.")
    )
    length_in_wavelengths = fields.Float(required=True, metadata=told("Of the first."))


class MaterialSchema(Schema):
    """What a metal was taken for."""

    code = fields.String(
        required=True, metadata=told("Stands for name, source, status and note: where they change, it does.")
    )
    name = fields.String(required=True)
    resistivity_ohm_m = fields.Float(required=True)
    permeability = fields.Nested(BetweenSchema, required=True)
    source = fields.String(required=True)
    status = fields.String(required=True, metadata=told("How the source was seen; memory: not looked up."))
    note = fields.String(required=True)


class CoatingSchema(Schema):
    """What a metal coating was taken for."""

    name = fields.String(required=True)
    thickness_um = fields.Nested(BetweenSchema, required=True)
    source = fields.String(required=True)
    status = fields.String(required=True, metadata=told("How the source was seen; memory: not looked up."))


class ShapesSchema(Schema):
    """How far the shapes differ, second over first."""

    diameter_ratio = fields.Float(required=True)
    length_ratio = fields.Float(required=True, metadata=told("The resonance shifts by as much."))
    same_form = fields.Boolean(required=True)


class AnswerAntennaSchema(Schema):
    """The antenna as it was understood."""

    kind = fields.String(required=True, metadata={"enum": list(KINDS)})


class FormulaSchema(Schema):
    """What the answer rests on."""

    name = fields.String(required=True)
    source = fields.String(required=True)
    status = fields.String(required=True, metadata=told("How the source was seen; memory: not looked up."))


class LossAnswerSchema(Schema):
    """What conductor loss alone could explain between two elements."""

    first = fields.String(required=True)
    second = fields.String(required=True)
    antenna = fields.Nested(AnswerAntennaSchema, required=True)
    load_ohm = fields.Float(required=True)
    rows = fields.List(fields.Nested(LossRowSchema), required=True)
    geometry = fields.Nested(ShapesSchema, required=True)
    materials = fields.List(fields.Nested(MaterialSchema), required=True)
    coatings = fields.List(fields.Nested(CoatingSchema), required=True)
    formulas = fields.List(fields.Nested(FormulaSchema), required=True)
