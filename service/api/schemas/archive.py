"""What a replay answers."""

from marshmallow import Schema, fields

from service.api.schemas.trial import told


class DifferenceSchema(Schema):
    """One place where the two verdicts differ."""

    pointer = fields.String(required=True, metadata=told("The place in the analysis document."))
    then = fields.Raw(required=True, allow_none=True)
    now = fields.Raw(required=True, allow_none=True)


class OutcomesSchema(Schema):
    """The two outcomes."""

    then = fields.String(required=True, allow_none=True)
    now = fields.String(required=True)


class VersionsSchema(Schema):
    """What made the two verdicts."""

    then = fields.Dict(keys=fields.String(), required=True)
    now = fields.Dict(keys=fields.String(), required=True)


class ReplaySchema(Schema):
    """How a verdict reached again stands to the one there was."""

    trial = fields.String(required=True)
    trial_version = fields.Integer(required=True)
    agrees = fields.Boolean(
        required=True,
        metadata=told(
            "The same bytes where they are due; else the same outcomes and counts, and numbers within 1e-12."
        ),
    )
    same_bytes = fields.Boolean(required=True)
    same_bytes_expected = fields.Boolean(
        required=True, metadata=told("Whether versions and machine are those of the archive.")
    )
    outcome = fields.Nested(OutcomesSchema, required=True)
    versions = fields.Nested(VersionsSchema, required=True)
    differences = fields.List(
        fields.Nested(DifferenceSchema), required=True, metadata=told("The first 100 of those that count.")
    )
    more_differences = fields.Boolean(required=True)
