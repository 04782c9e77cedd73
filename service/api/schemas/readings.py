"""The readings, and the body that brings them together with their trial."""

from marshmallow import fields

from service.api.schemas.closed import ClosedSchema
from service.api.schemas.trial import SOME_TEXT, TEXT, TrialSchema, told

AT = {"anyOf": [{"type": ["string", "null"], "format": "date-time"}, {"const": ""}]}


class ReadingSchema(ClosedSchema):
    """One meter value for one element, round and channel."""

    element = fields.String(required=True, validate=SOME_TEXT)
    round = fields.Integer(allow_none=True, metadata=told("By default the n-th mounting is round n."))
    channel = fields.String(required=True, validate=SOME_TEXT)
    value = fields.Float(required=True, allow_none=True, metadata=told("null: scanned, nothing found."))
    rf_channel = fields.String(allow_none=True, validate=TEXT, metadata=told("Empty as if it were null."))
    received = fields.Boolean(allow_none=True, metadata=told("false: scanned, nothing found."))
    at = fields.Raw(metadata=AT | told("RFC 3339, with a zone; empty as if it were null."))
    run = fields.String(allow_none=True, validate=TEXT)
    mounting = fields.String(allow_none=True, validate=TEXT)


class VerdictRequestSchema(ClosedSchema):
    """A trial and its readings."""

    trial = fields.Nested(TrialSchema, required=True)
    readings = fields.List(fields.Nested(ReadingSchema), required=True)
