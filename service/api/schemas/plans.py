"""The plan that answers a question."""

from marshmallow import Schema, fields

from service.api.schemas.trial import TrialSchema, told

OUTCOMES = ("clear winner", "within noise", "needs more runs")


class PlannedElementSchema(Schema):
    """An element of the plan."""

    id = fields.String(required=True)
    label = fields.String(required=True)
    role = fields.String(required=True, metadata={"enum": ["competes", "twin", "pad"]})


class AllowedSchema(Schema):
    """What a reading may be."""

    lowest = fields.Float(required=True)
    highest = fields.Float(required=True)
    resolution = fields.Float(required=True, allow_none=True)


class PlannedRunSchema(Schema):
    """One run; places count from 1 within the round."""

    round = fields.Integer(required=True)
    place = fields.Integer(required=True)
    element = fields.String(required=True)


class PlanNoiseSchema(Schema):
    """The run-to-run standard deviation that is counted with."""

    sd = fields.Float(
        required=True, allow_none=True, metadata=told("In meter units; null: the unit is the sd itself.")
    )
    degrees_of_freedom = fields.Integer(required=True, allow_none=True)
    source = fields.String(
        data_key="from",
        required=True,
        metadata={"enum": ["known repeatability", "readings so far", "not known"]},
    )


class WorthwhileSchema(Schema):
    """The difference that is to be seen."""

    difference = fields.Float(required=True, metadata=told("In meter units."))
    source = fields.String(
        data_key="from", required=True, metadata={"enum": ["worthwhile_difference", "margin"]}
    )
    by_round = fields.Integer(
        required=True, allow_none=True, metadata=told("The first at which the chance is reached.")
    )
    sd_at_most = fields.Float(
        required=True,
        allow_none=True,
        metadata=told("The run-to-run sd up to which the plan sees it with the chance."),
    )


class ChanceSchema(Schema):
    """The chance that the winner stands named after so many complete rounds."""

    round = fields.Integer(required=True)
    chance = fields.Float(required=True)


class SettlingSchema(Schema):
    """What the rounds still to come are likely to settle, given the readings there are."""

    outcome = fields.String(required=True, metadata={"enum": list(OUTCOMES)} | told("As it stands now."))
    by_round = fields.List(
        fields.Nested(ChanceSchema),
        required=True,
        metadata=told("The chance that any outcome stands by then, rounds numbered as they will be."),
    )
    why = fields.String(
        required=True,
        allow_none=True,
        metadata={"enum": ["settled", "no noise", "too few runs", None]} | told("Why no chances are told."),
    )
    trials = fields.Integer(required=True, metadata=told("Simulated continuations; 0: none."))


class PowerSchema(Schema):
    """One difference."""

    difference = fields.Float(required=True)
    by_round = fields.List(fields.Nested(ChanceSchema), required=True)


class ShorterSchema(Schema):
    """What the same time brings without some elements."""

    drop = fields.List(fields.String(), required=True)
    rounds = fields.Integer(required=True)
    detectable_difference = fields.Float(required=True, allow_none=True)
    minutes = fields.Float(required=True)


class RemountStudySchema(Schema):
    """Remounts of one element, then so many scans of each."""

    element = fields.String(required=True)
    remounts = fields.Integer(required=True)
    then = fields.Integer(required=True, metadata=told("Scans of each element; 0 where that was done."))
    minutes = fields.Float(required=True)
    fits = fields.Boolean(required=True, metadata=told("Whether there is time for it."))
    detectable_difference = fields.Float(required=True)


class PlanCautionSchema(Schema):
    """What to settle before the first run."""

    code = fields.String(required=True)
    severity = fields.String(required=True, metadata={"enum": ["note", "warning", "stop"]})
    message = fields.String(required=True)
    evidence = fields.Dict(keys=fields.String(), required=True)


class PlanMethodSchema(Schema):
    """How the chances were found."""

    trials = fields.Integer(required=True, metadata=told("Simulated."))
    bell_shaped_draws = fields.Integer(required=True)
    planned_rounds = fields.Integer(required=True)
    confidence = fields.Float(required=True)
    looks = fields.String(required=True)
    margin = fields.Float(required=True, allow_none=True, metadata=told("Null: it plays no part."))
    elements = fields.Integer(required=True)
    competing = fields.Integer(required=True)


class TrialPlanSchema(Schema):
    """A plan. Every field is always present, null where it cannot be computed."""

    format = fields.Constant("plan/1", required=True, metadata={"type": "string", "const": "plan/1"})
    trial = fields.Nested(
        TrialSchema, required=True, metadata=told("With its plan, to go with the readings.")
    )
    elements = fields.List(fields.Nested(PlannedElementSchema), required=True)
    allowed = fields.Nested(AllowedSchema, required=True)
    rounds = fields.Integer(required=True, metadata=told("To be run."))
    rounds_done = fields.Integer(required=True, metadata=told("That hold every element."))
    first_round = fields.Integer(required=True)
    order = fields.List(fields.Nested(PlannedRunSchema), required=True)
    minutes = fields.Float(required=True)
    minutes_per_run = fields.Float(required=True)
    minutes_available = fields.Float(required=True)
    rounds_that_fit = fields.Integer(required=True)
    seed = fields.Integer(required=True)
    chance = fields.Float(required=True)
    noise = fields.Nested(PlanNoiseSchema, required=True)
    difference_unit = fields.String(
        required=True, metadata=told("Of every difference in power, shorter and remount_study.")
    )
    first_verdict_round = fields.Integer(
        required=True,
        allow_none=True,
        metadata=told("The first after which a verdict is possible; null: none in this plan."),
    )
    detectable_difference = fields.Float(
        required=True,
        allow_none=True,
        metadata=told("Of the best from all others, named with the chance by the end."),
    )
    settling = fields.Nested(
        SettlingSchema,
        required=True,
        allow_none=True,
        metadata=told("Null: nothing was run yet, or nothing is left to run."),
    )
    worthwhile = fields.Nested(WorthwhileSchema, required=True)
    power = fields.List(fields.Nested(PowerSchema), required=True)
    shorter = fields.List(fields.Nested(ShorterSchema), required=True)
    remount_study = fields.Nested(RemountStudySchema, required=True, allow_none=True)
    cautions = fields.List(fields.Nested(PlanCautionSchema), required=True)
    safety = fields.List(fields.String(), required=True)
    method = fields.Nested(PlanMethodSchema, required=True)
    statement = fields.String(required=True)
