"""The answers of the two health routes."""

from marshmallow import Schema, fields


class StatusSchema(Schema):
    """How the service is."""

    status = fields.String(required=True, metadata={"enum": ["alive", "ready"]})
