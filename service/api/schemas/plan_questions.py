"""The question for a plan."""

from marshmallow import fields

from service.api.negotiation import PLAN_FORMS
from service.api.schemas.closed import ClosedSchema
from service.api.schemas.query import STRING, MarksText, form_text, locale_text, paper_text
from service.api.schemas.trial import TrialSchema, told


class PlanQuerySchema(ClosedSchema):
    """The form of the answer, and the marks of a file of readings that is continued."""

    form = form_text(PLAN_FORMS)
    paper = paper_text()
    locale = locale_text()
    nothing_found = MarksText(
        metadata=STRING | told("Marks in the file of: scanned, nothing found. Comma between them.")
    )
    not_scanned = MarksText(metadata=STRING | told("Marks in the file of: not scanned. Comma between them."))


class ContinuesField(fields.Field[object]):
    """The id of a kept trial, or readings."""


class PlanQuestionSchema(ClosedSchema):
    """A trial to come, or one under way, and the time there is."""

    trial = fields.Nested(TrialSchema, metadata=told("Required unless a kept trial is continued."))
    minutes_per_run = fields.Float(
        allow_none=True,
        metadata=told("From one scan to the next, all included; the trial's minutes_per_run by default."),
    )
    minutes_available = fields.Float(required=True)
    minutes_per_mounting = fields.Float(
        allow_none=True, metadata=told("Added to each run, where it was counted apart.")
    )
    chance = fields.Float(
        allow_none=True, metadata=told("With which a difference is to be seen; 0.8 by default.")
    )
    worthwhile_difference = fields.Float(
        allow_none=True, metadata=told("In meter units; the margin by default.")
    )
    continues = ContinuesField(
        metadata={
            "description": "What was run already: the id of a kept trial, or readings. Then only the rounds "
            "that are missing are planned. A file of readings is sent as a form, its part `readings` beside "
            "`plan`.",
            "oneOf": [{"type": "string"}, {"type": "array", "items": {"type": "object"}}, {"type": "null"}],
        }
    )
    seed = fields.Integer(allow_none=True, metadata=told("Of the order; the trial's by default."))
