"""Design histories: what is asked and what is answered.

The whole answer stands as a JSON Schema in design-history.schema.json beside the description.
"""

from marshmallow import Schema, fields, validate

from service.api.negotiation import HISTORY_FORMS
from service.api.schemas.closed import ClosedSchema
from service.api.schemas.query import form_text, locale_text, paper_text
from service.api.schemas.trial import SOME_TEXT, told
from service.trial.history_question import FEWEST_TRIALS, MOST_TRIALS

OUTCOMES = ["creeps", "no creep beyond the margin", "needs more trials"]


class DesignHistoryQuerySchema(ClosedSchema):
    """The form of the answer."""

    form = form_text(HISTORY_FORMS)
    paper = paper_text()
    locale = locale_text()


class DesignHistoryRequestSchema(ClosedSchema):
    """An element, the reference it is held against, and the kept trials."""

    element = fields.String(required=True, validate=SOME_TEXT, metadata=told("The element that is followed."))
    reference = fields.String(required=True, validate=SOME_TEXT, metadata=told("What every trial holds too."))
    trials = fields.List(
        fields.String(validate=SOME_TEXT),
        required=True,
        validate=validate.Length(min=FEWEST_TRIALS, max=MOST_TRIALS),
        metadata=told("Ids of kept trials, in any order; their readings have times."),
    )
    margin = fields.Float(
        allow_none=True,
        validate=validate.Range(min=0, min_inclusive=False),
        metadata=told("Smallest change to act on; by default that of the trials, if it is one."),
    )
    confidence = fields.Float(
        allow_none=True,
        validate=validate.Range(min=0.80, max=0.99),
        metadata=told("By default the highest of the trials."),
    )


class IntervalSchema(Schema):
    """Both ends together are right with the chance `level`."""

    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)
    level = fields.Float(required=True)


class HistoryPointSchema(Schema):
    """One trial: element less reference."""

    trial = fields.Integer(required=True, metadata=told("Its place in trials."))
    date = fields.String(required=True, metadata=told("The middle of the runs, RFC 3339 in UTC."))
    days = fields.Float(required=True, metadata=told("Since the first."))
    rounds = fields.Integer(required=True, metadata=told("That hold both."))
    difference = fields.Float(required=True)
    interval = fields.Nested(IntervalSchema, required=True)


class PaceSchema(Schema):
    """The same slope by the year of 365.25 days."""

    change = fields.Float(required=True)
    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)


class LinePlaceSchema(Schema):
    """The line itself at a place."""

    days = fields.Float(required=True)
    value = fields.Float(required=True)
    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)


class HistoryTrendSchema(IntervalSchema):
    """The line through the trials: its change over the span of the dates, which is what decides."""

    change = fields.Float(required=True, metadata=told("Over the span, in meter units."))
    p_value = fields.Float(required=True, allow_none=True, metadata=told("Two-sided."))
    span_days = fields.Float(required=True)
    per_year = fields.Nested(PaceSchema, required=True)
    rests_on = fields.String(
        required=True,
        metadata={"enum": ["between trials", "within trials", "rounding"]}
        | told("What made the interval so wide."),
    )
    between_sd = fields.Float(required=True, metadata=told("Of the trials about the line."))
    between_degrees_of_freedom = fields.Integer(required=True)
    within_error = fields.Float(required=True, metadata=told("Standard error of the change, rounds alone."))
    within_degrees_of_freedom = fields.Float(required=True, allow_none=True)
    line = fields.List(fields.Nested(LinePlaceSchema), required=True)


class FirstToLastSchema(IntervalSchema):
    """The same element then and now: last trial less first, limits as in a design check."""

    first = fields.String(required=True)
    last = fields.String(required=True)
    difference = fields.Float(required=True)
    statement = fields.String(required=True)


class DesignHistorySchema(Schema):
    """Whether an element creeps against the reference."""

    format = fields.Constant(
        "design-history/1", required=True, metadata={"type": "string", "const": "design-history/1"}
    )
    history_id = fields.String(required=True)
    outcome = fields.String(required=True, validate=validate.OneOf(OUTCOMES))
    statement = fields.String(required=True)
    element = fields.String(required=True)
    element_label = fields.String(required=True)
    reference = fields.String(required=True)
    reference_label = fields.String(required=True)
    unit = fields.String(required=True)
    margin = fields.Float(required=True)
    margin_from = fields.String(required=True, validate=validate.OneOf(["trials", "question"]))
    confidence = fields.Float(required=True)
    confidence_from = fields.String(required=True, validate=validate.OneOf(["trials", "question"]))
    points = fields.List(fields.Nested(HistoryPointSchema), required=True, metadata=told("By date."))
    trend = fields.Nested(HistoryTrendSchema, required=True)
    first_to_last = fields.Nested(FirstToLastSchema, required=True)
    with_struck = fields.String(required=True, allow_none=True, metadata=told("With struck runs put back."))
    reasons = fields.List(fields.Dict(), required=True)
    rf_channels = fields.Dict(required=True, metadata=told("Those used, and those left out with why."))
    trials = fields.List(fields.Dict(), required=True, metadata=told("The trials it rests on, by date."))
    cautions = fields.List(fields.Dict(), required=True, metadata=told("Each with the place of its trial."))
    not_seen = fields.List(fields.String(), required=True, metadata=told("What such a history cannot see."))
    method = fields.Dict(required=True, metadata=told("Method, what decides, looks, versions."))
