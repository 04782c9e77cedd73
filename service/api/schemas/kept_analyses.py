"""Analyses of kept trials: queries, which parse, and answers, which are described."""

from marshmallow import Schema, fields, validate

from service.api.negotiation import VERDICT_FORMS
from service.api.schemas.analysis import AnalysisSchema
from service.api.schemas.closed import ClosedSchema
from service.api.schemas.problem import ProblemSchema
from service.api.schemas.query import WholeNumberText, form_text, locale_text, paper_text, shape_text
from service.api.schemas.trial import told

ANALYSES_A_PAGE, MOST_ANALYSES = 50, 200
STATES = ("waiting", "running", "done", "failed", "cancelled")
STAGES = ("scores", "verdict", "other channels", "document")


class AnalysisPageQuerySchema(ClosedSchema):
    """Which page of a trial's analyses."""

    limit = WholeNumberText(
        validate=validate.Range(1, MOST_ANALYSES, error=f"From 1 to {MOST_ANALYSES} entries make a page."),
        metadata=told(f"Entries a page; {ANALYSES_A_PAGE} by default."),
    )
    cursor = fields.String(metadata=told("Where the page begins, as the page before tells in `next`."))


class AnalysisReportQuerySchema(ClosedSchema):
    """The form of the report."""

    form = form_text(VERDICT_FORMS)
    paper = paper_text()
    locale = locale_text()
    shape = shape_text()


class AnalysisLinksSchema(Schema):
    """Where to go from an analysis."""

    self = fields.String(required=True)
    trial = fields.String(required=True)
    report = fields.String(required=True, allow_none=True, metadata=told("null until it is done."))


class AnalysisBriefSchema(Schema):
    """An analysis of a kept trial and how it stands."""

    id = fields.String(required=True, metadata=told("32 hexadecimal digits."))
    trial = fields.String(required=True, metadata=told("The id of the trial."))
    trial_version = fields.Integer(required=True, metadata=told("The version that was analysed."))
    batches = fields.Integer(required=True, metadata=told("The number of the last batch that it holds."))
    state = fields.String(required=True, metadata={"enum": list(STATES)})
    stage = fields.String(
        required=True, allow_none=True, metadata={"enum": [*STAGES, None]} | told("The last one begun.")
    )
    created_at = fields.DateTime(required=True)
    started_at = fields.DateTime(required=True, allow_none=True)
    finished_at = fields.DateTime(required=True, allow_none=True, metadata=told("The date of its reports."))
    problem = fields.Nested(ProblemSchema, required=True, allow_none=True, metadata=told("Why it failed."))
    links = fields.Nested(AnalysisLinksSchema, required=True)


class KeptAnalysisSchema(AnalysisBriefSchema):
    """The same with what came of it."""

    analysis = fields.Nested(
        AnalysisSchema, required=True, allow_none=True, metadata=told("The analysis document, once done.")
    )


class AnalysisPageSchema(Schema):
    """A page of a trial's analyses, the newest first."""

    analyses = fields.List(fields.Nested(AnalysisBriefSchema), required=True)
    next = fields.String(
        required=True, allow_none=True, metadata=told("Path and query of the next page, null after the last.")
    )
