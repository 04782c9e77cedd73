"""Design checks: what is asked and what is answered.

The whole answer stands as a JSON Schema in design-check.schema.json beside the description.
"""

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate

from service.api.negotiation import CHECK_FORMS
from service.api.schemas.closed import ClosedSchema
from service.api.schemas.query import VerdictQuerySchema, form_text
from service.api.schemas.readings import VerdictRequestSchema
from service.api.schemas.trial import SOME_TEXT, told

OUTCOMES = ["holds", "falls short", "needs more runs"]
_LIST = {"type": "array", "items": {"type": "string"}}


class NamesText(fields.Field[tuple[str, ...]]):
    """Names as text, separated by commas; the parameter may be repeated. Loads as one tuple."""

    is_multiple = True

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> tuple[str, ...]:
        return tuple(name.strip() for text in value for name in text.split(",") if name.strip())


class SamplesText(fields.Field[tuple[tuple[str, ...], ...]]):
    """The same, each value the samples of one design. Loads as a tuple of tuples."""

    is_multiple = True

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> tuple[tuple[str, ...], ...]:
        designs = (tuple(name.strip() for name in text.split(",") if name.strip()) for text in value)
        return tuple(designs)


class YesNoText(fields.Field[bool]):
    """Yes or no as text: true or false."""

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> bool:
        if value not in {"true", "false"}:
            raise ValidationError("Must be true or false.")
        return bool(value == "true")


class DesignCheckQuerySchema(VerdictQuerySchema):
    """The trial's scalar fields and the marks of a table, the names, and the form of the answer."""

    class Meta(VerdictQuerySchema.Meta):
        """No check is drawn as a card."""

        exclude = ("shape",)

    baseline = fields.String(metadata=told("The element that the candidates are held against."))
    candidate = NamesText(metadata=_LIST | told("Each a candidate; repeated, or separated by commas."))
    samples = SamplesText(metadata=_LIST | told("Samples of one design, separated by commas; repeatable."))
    needs_more_runs_fails = YesNoText(
        load_default=False,
        metadata={"type": "boolean"} | told("In JUnit: needs more runs is a failure, not skipped."),
    )
    form = form_text(CHECK_FORMS)


class DesignCheckRequestSchema(VerdictRequestSchema):
    """A trial, its readings, and which of its elements are held against which."""

    baseline = fields.String(validate=SOME_TEXT, metadata=told("May stand in the query instead."))
    candidates = fields.List(
        fields.Raw(
            metadata={"oneOf": [{"type": "string"}, _LIST]} | told("An id, or the ids of several samples.")
        )
    )
    samples = fields.List(fields.List(fields.String()), metadata=told("Designs of several samples each."))


class KeptElementSchema(ClosedSchema):
    """An element of a kept trial."""

    trial = fields.String(required=True, validate=SOME_TEXT)
    element = fields.Raw(
        required=True,
        metadata={"oneOf": [{"type": "string"}, _LIST]} | told("An id, or the ids of several samples."),
    )


class KeptBaselineSchema(ClosedSchema):
    """A baseline that is kept under a name, or an element of a kept trial."""

    name = fields.String(validate=SOME_TEXT, metadata=told("Of a kept baseline; trial and element are its."))
    trial = fields.String(validate=SOME_TEXT, metadata=told("Wanted where there is no name."))
    element = fields.String(validate=SOME_TEXT, metadata=told("Wanted where there is no name."))


class KeptDesignCheckRequestSchema(ClosedSchema):
    """Elements of kept trials, in one trial or in two that share a reference."""

    baseline = fields.Nested(KeptBaselineSchema, required=True)
    candidates = fields.List(fields.Nested(KeptElementSchema), required=True)
    reference = fields.String(allow_none=True, metadata=told("By default the one that all trials name."))
    margin = fields.Float(allow_none=True, metadata=told("By default that of the trials, if it is one."))


class LimitsSchema(Schema):
    """Each limit alone is right with the chance `level`."""

    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)
    level = fields.Float(required=True)


class LostRunsSchema(Schema):
    """An RF channel that the candidate lost."""

    rf_channel = fields.String(required=True)
    received_runs = fields.Integer(required=True)
    scanned_runs = fields.Integer(required=True)


class CheckReceptionSchema(Schema):
    """The second criterion."""

    outcome = fields.String(required=True, metadata={"enum": OUTCOMES})
    lost = fields.List(
        fields.String(), required=True, metadata=told("Received by the baseline in every run.")
    )
    lost_runs = fields.List(fields.Nested(LostRunsSchema), required=True)
    compared = fields.Integer(required=True)
    scanned_with_both = fields.Integer(required=True)


class CheckSchema(Schema):
    """One candidate against the baseline."""

    candidate = fields.String(required=True)
    candidate_label = fields.String(required=True)
    candidate_trial = fields.Integer(required=True)
    samples = fields.List(fields.String(), required=True)
    baseline = fields.String(required=True)
    baseline_label = fields.String(required=True)
    baseline_trial = fields.Integer(required=True)
    outcome = fields.String(required=True, metadata={"enum": OUTCOMES})
    difference = fields.Float(required=True, allow_none=True, metadata=told("Candidate less baseline."))
    limits = fields.Nested(LimitsSchema, required=True)
    margin = fields.Float(required=True)
    p_value = fields.Float(required=True, allow_none=True)
    rounds = fields.Integer(required=True)
    baseline_rounds = fields.Integer(required=True)
    decided_at_round = fields.Integer(required=True, allow_none=True)
    more_rounds = fields.Integer(
        required=True, allow_none=True, metadata=told("0: decided; null: not known.")
    )
    more_rounds_safe = fields.Integer(required=True, allow_none=True)
    reception = fields.Nested(CheckReceptionSchema, required=True)
    with_struck = fields.String(required=True, allow_none=True, metadata=told("With struck runs put back."))
    reasons = fields.List(fields.Dict(), required=True)
    method = fields.String(required=True)
    statement = fields.String(required=True)
    reception_statement = fields.String(required=True)


class DesignCheckSchema(Schema):
    """Whether candidates are as good as a baseline."""

    format = fields.Constant(
        "design-check/1", required=True, metadata={"type": "string", "const": "design-check/1"}
    )
    check_id = fields.String(required=True)
    outcome = fields.String(
        required=True,
        validate=validate.OneOf(OUTCOMES),
        metadata=told("falls short if any candidate does, holds if all do."),
    )
    statement = fields.String(required=True)
    design = fields.String(required=True, validate=validate.OneOf(["one trial", "through a reference"]))
    reference = fields.String(required=True, allow_none=True)
    baseline_kept_as = fields.Dict(
        required=True,
        allow_none=True,
        metadata=told("Name, date and note of a baseline that was asked for by its name."),
    )
    unit = fields.String(required=True)
    margin = fields.Float(required=True)
    margin_from = fields.String(required=True, validate=validate.OneOf(["trial", "question"]))
    checks = fields.List(fields.Nested(CheckSchema), required=True)
    rf_channels = fields.Dict(required=True, metadata=told("Those used, and those left out with why."))
    trials = fields.List(fields.Dict(), required=True, metadata=told("The trials it rests on."))
    cautions = fields.List(fields.Dict(), required=True, metadata=told("With the candidates that they stop."))
    not_seen = fields.List(fields.String(), required=True, metadata=told("What such a check cannot see."))
    method = fields.Dict(required=True, metadata=told("Error, steps, looks, seed, versions."))
