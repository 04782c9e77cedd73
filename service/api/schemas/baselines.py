"""Baselines that are kept by name: what is sent and what is answered."""

from marshmallow import Schema, fields

from service.api.schemas.closed import ClosedSchema
from service.api.schemas.trial import SOME_TEXT, TEXT, told

ORIGINS = ["last reading", "naming"]


class BaselineRequestSchema(ClosedSchema):
    """An element of a kept trial and the name it is to have."""

    name = fields.String(
        required=True, validate=SOME_TEXT, metadata=told("Each once; a check may ask for it by this.")
    )
    trial = fields.String(required=True, validate=SOME_TEXT, metadata=told("The id of a kept trial."))
    element = fields.String(required=True, validate=SOME_TEXT, metadata=told("The id of an element in it."))
    note = fields.String(allow_none=True, validate=TEXT, metadata=told("Shown in the reports."))


class BaselineSchema(BaselineRequestSchema):
    """A baseline as it is kept."""

    id = fields.String(required=True, metadata=told("32 hexadecimal digits."))
    note = fields.String(required=True, allow_none=True)
    date = fields.DateTime(
        required=True, metadata=told("Of the element's last reading when it was named; else of the naming.")
    )
    date_from = fields.String(required=True, metadata={"enum": ORIGINS} | told("What the date is of."))
    created_at = fields.DateTime(required=True)
    trial_kept = fields.Boolean(
        required=True, metadata=told("False: its trial was removed, and nothing can be held against it.")
    )


class BaselinePageSchema(Schema):
    """A page of the kept baselines, the newest first."""

    baselines = fields.List(fields.Nested(BaselineSchema), required=True)
    next = fields.String(
        required=True, allow_none=True, metadata=told("Path and query of the next page, null after the last.")
    )
