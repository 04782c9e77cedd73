"""The problem document (RFC 9457) and its places."""

from marshmallow import Schema, fields

from service.api.schemas.trial import told


class PlaceSchema(Schema):
    """One place where the input is wrong."""

    pointer = fields.String(metadata=told("JSON pointer of the place, such as #/readings/12/value."))
    row = fields.Integer(metadata=told("Line of the file from 1, heading included."))
    column = fields.String(metadata=told("Heading of the column."))
    parameter = fields.String(metadata=told("Name of the query parameter."))
    given = fields.Raw(metadata=told("The value given."))
    detail = fields.String(required=True, metadata=told("What is allowed and how to mend it."))


class ProblemSchema(Schema):
    """Why a request was not answered."""

    type = fields.String(required=True, metadata={"format": "uri-reference"} | told("Leads to its meaning."))
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    detail = fields.String(required=True, metadata=told("What was wrong and what to do."))
    errors = fields.List(fields.Nested(PlaceSchema), metadata=told("Every place, at most 100."))
    count = fields.Integer(metadata=told("The number of all places."))
    id = fields.String(metadata=told("A fault of our own stands in the log under this id."))


class ProblemKindSchema(Schema):
    """The meaning of a problem type."""

    name = fields.String(required=True)
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    remedy = fields.String(required=True, metadata=told("What a caller can do about it."))
