"""Kept trials and their readings: queries, which parse, and answers, which are described."""

from typing import Any

from marshmallow import Schema, fields, validate

from service.api.schemas.closed import ClosedSchema
from service.api.schemas.query import STRING, MarksText, WholeNumberText
from service.api.schemas.readings import ReadingSchema
from service.api.schemas.trial import SOME_TEXT, MeterSchema, TrialSchema, told
from service.intake.media_types import JSON
from service.radio.meters import UNIT_NAMES

TRIALS_A_PAGE, MOST_TRIALS = 50, 200
READINGS_A_PAGE, MOST_READINGS = 10_000, 100_000
EXPORT_FORMS = {
    "json": JSON,
    "ndjson": "application/x-ndjson",
    "csv": "text/csv",
}


def _limit(most: int, default: str) -> WholeNumberText:
    wrong = f"From 1 to {most} entries make a page."
    return WholeNumberText(
        validate=validate.Range(1, most, error=wrong), metadata=told(f"Entries a page; {default}.")
    )


def _cursor() -> fields.String:
    return fields.String(metadata=told("Where the page begins, as the page before tells in `next`."))


def _part(description: str, **options: Any) -> fields.Dict:
    return fields.Dict(keys=fields.String(), metadata=told(description), **options)


class PageQuerySchema(ClosedSchema):
    """Which page of the trials."""

    limit = _limit(MOST_TRIALS, f"{TRIALS_A_PAGE} by default")
    cursor = _cursor()


class ExportQuerySchema(ClosedSchema):
    """Which page of the readings, and in which form."""

    form = fields.String(metadata={"enum": list(EXPORT_FORMS)} | told("Form of the answer; over Accept."))
    limit = _limit(MOST_READINGS, f"{READINGS_A_PAGE} of json by default, all of the other forms")
    cursor = _cursor()


class BatchQuerySchema(ClosedSchema):
    """What the batch is for, and the marks of its table."""

    corrects = fields.String(
        validate=SOME_TEXT, metadata=told("Why it takes the place of readings that are there already.")
    )
    withdraws = WholeNumberText(metadata=told("The number of a batch to take back; the body is empty."))
    reason = fields.String(validate=SOME_TEXT, metadata=told("Why the batch is taken back."))
    nothing_found = MarksText(metadata=STRING | told("Marks of: scanned, nothing found. Comma between them."))
    not_scanned = MarksText(metadata=STRING | told("Marks of: not scanned. Comma between them."))


class KeptTrialSchema(TrialSchema):
    """A trial document as it is kept: as it was given, with its id and what became of it."""

    id = fields.String(required=True, metadata=told("32 hexadecimal digits."))
    kept = _part(
        "Version, times, what its readings hold, and its history: the first plan, changes and batches.",
        required=True,
    )


class MeterPatchSchema(MeterSchema):
    """What is to change of the meter."""

    unit = fields.String(validate=validate.OneOf(UNIT_NAMES), metadata=told("Of the readings."))


class TrialPatchSchema(TrialSchema):
    """What is to change (RFC 7396): members of the trial document; null takes one out."""

    meter = fields.Nested(MeterPatchSchema)
    reason = fields.String(
        validate=SOME_TEXT,
        metadata=told("Wanted where what moves the verdict changes after readings came; kept and printed."),
    )


class TrialBriefSchema(Schema):
    """A kept trial in a list."""

    id = fields.String(required=True)
    title = fields.String(required=True, allow_none=True)
    version = fields.Integer(required=True)
    batches = fields.Integer(required=True)
    created_at = fields.DateTime(required=True)
    changed_at = fields.DateTime(required=True)


class TrialPageSchema(Schema):
    """A page of the kept trials, the newest first."""

    trials = fields.List(fields.Nested(TrialBriefSchema), required=True)
    next = fields.String(
        required=True, allow_none=True, metadata=told("Path and query of the next page, null after the last.")
    )


class BatchRequestSchema(ClosedSchema):
    """Readings for a kept trial."""

    readings = fields.List(fields.Nested(ReadingSchema), required=True)


class BatchAnswerSchema(Schema):
    """What was kept."""

    batch = fields.Integer(required=True, metadata=told("The number of the batch in its trial, from 1."))
    rows = fields.Integer(required=True, metadata=told("How many readings it holds."))
    read_as = _part("How the batch was understood.", required=True)
    version = fields.Integer(required=True, metadata=told("The version of the trial now."))
    new_elements = fields.List(
        fields.String(), metadata=told("Elements that neither the trial nor an earlier batch names.")
    )
    replaced = fields.Integer(metadata=told("Of a correction: readings that stand in place of earlier ones."))
    withdrawn = fields.Integer(metadata=told("Of a withdrawal: the number of the batch taken back."))


class ReadingsPageSchema(Schema):
    """A page of the readings of a trial, corrections and withdrawals applied."""

    readings = fields.List(fields.Nested(ReadingSchema), required=True)
    next = fields.String(
        required=True, allow_none=True, metadata=told("Path and query of the next page, null after the last.")
    )
