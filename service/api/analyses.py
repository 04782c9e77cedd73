"""/v1/trials/{id}/analyses and /v1/analyses: kept trials analysed, now or later, and reported on."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from flask import Response, request

from service.api.access import owner
from service.api.bodies import whole_body
from service.api.cursors import Listed
from service.api.desk import kept_desks, locale
from service.api.negotiation import VERDICT_FORMS, described, vary_by_accept, wanted_form
from service.api.noun import NAMED, STORED, Answers, Noun
from service.api.problems import problem_document
from service.api.report_answers import report_answer
from service.api.schemas.analysis import AnalysisSchema
from service.api.schemas.kept_analyses import (
    ANALYSES_A_PAGE,
    AnalysisBriefSchema,
    AnalysisPageQuerySchema,
    AnalysisPageSchema,
    AnalysisReportQuerySchema,
    KeptAnalysisSchema,
)
from service.api.strict_json import json_answer
from service.api.trials import IF_NONE_MATCH
from service.errors import BadRequest
from service.intake.media_types import JSON
from service.jobs.versions import program_version

if TYPE_CHECKING:
    from service.jobs.kept_analyses import Asked
    from service.storage.analysis_rows import KeptAnalysis

OF_TRIAL = "/v1/trials/<trial_id>/analyses"
ONE = "/v1/analyses/<analysis_id>"
LATER = "respond-async"
POLL_SECONDS = "1"
PREFER = {
    "in": "header",
    "name": "Prefer",
    "schema": {"type": "string"},
    "description": f"{LATER}: answer at once, with an analysis that waits its turn (RFC 7240).",
}
OF_IT = {"analysis_id": "$response.body#/id"}

analyses = Noun("analyses", __name__, description="Verdicts on kept trials, kept with them.")


@analyses.operation(
    OF_TRIAL,
    method="POST",
    forms=[(JSON, KeptAnalysisSchema)],
    answers=Answers(
        (200, 201, 202),
        {
            "Location": "The path of the analysis.",
            "Retry-After": "202: the seconds after which to look again.",
            "Preference-Applied": "202: that it is done later.",
        },
        {"show_analysis": OF_IT, "cancel_analysis": OF_IT, "report_analysis": OF_IT},
    ),
    problems=(400, 404, 409, 413, *STORED, 507),
    parameters=[PREFER],
)
def analyse_trial(_query: Mapping[str, Any], trial_id: str) -> Response:
    """Analyse a kept trial as it is now.

    200 with the analysis that is there already where the trial has not changed since; 201 with a new one; or
    202 with one that waits or runs, where the request prefers that. The body is empty.
    """
    if whole_body(request):
        raise BadRequest("This takes no body: what is analysed is the trial as it is kept.")
    desk = kept_desks().analyses
    asked = desk.ask(owner(), trial_id) if LATER in _preferences() else desk.analyse_now(owner(), trial_id)
    if asked.document is not None:
        answer = json_answer(shown_whole(asked), status=201 if asked.new else 200)
    else:
        answer = json_answer(shown_whole(asked), status=202)
        answer.headers["Retry-After"] = POLL_SECONDS
        answer.headers["Preference-Applied"] = LATER
    answer.headers["Location"] = f"/v1/analyses/{asked.analysis.id}"
    return answer


@analyses.operation(
    OF_TRIAL,
    query=AnalysisPageQuerySchema,
    forms=[(JSON, AnalysisPageSchema)],
    answers=Answers(headers={"Link": 'The next page, rel="next".'}),
    problems=(404, *STORED),
)
def list_analyses(query: Mapping[str, Any], trial_id: str) -> Response:
    """List the analyses of a trial, the newest first."""
    path, asked = f"/v1/trials/{trial_id}/analyses", {"owner": owner(), "trial": trial_id}
    desk = kept_desks().analyses
    return Listed("analyses", path, asked, ANALYSES_A_PAGE).answer(
        query,
        lambda after, limit: [shown(one) for one in desk.page(owner(), trial_id, after, limit=limit)],
    )


@analyses.operation(
    ONE,
    forms=[(JSON, KeptAnalysisSchema)],
    answers=Answers(
        (200, 304), {"ETag": "Changes with state and stage.", "Retry-After": "While it waits or runs."}
    ),
    problems=(404, *STORED),
    parameters=[IF_NONE_MATCH],
)
def show_analysis(_query: Mapping[str, Any], analysis_id: str) -> Response:
    """Show an analysis: how it stands, and its document once it is done."""
    asked = kept_desks().analyses.get(owner(), analysis_id)
    answer = json_answer(shown_whole(asked))
    answer.set_etag(f"{asked.analysis.state}-{(asked.analysis.stage or '').replace(' ', '-')}")
    if asked.analysis.finished_at is None:
        answer.headers["Retry-After"] = POLL_SECONDS
    answer.make_conditional(request)
    return answer


@analyses.operation(
    ONE,
    method="DELETE",
    forms=[(JSON, AnalysisBriefSchema)],
    problems=(404, 409, *STORED, 507),
)
def cancel_analysis(_query: Mapping[str, Any], analysis_id: str) -> Response:
    """Cancel an analysis that waits or runs; it stays in the list, as cancelled."""
    return json_answer(shown(kept_desks().analyses.cancel(owner(), analysis_id)))


@analyses.operation(
    f"{ONE}/report",
    query=AnalysisReportQuerySchema,
    forms=described(VERDICT_FORMS, AnalysisSchema),
    answers=Answers(
        (200, 304),
        {"ETag": "The same for the same form, paper, shape, locale and version of the program."} | NAMED,
    ),
    problems=(404, 406, 409, 413, *STORED, 501),
    parameters=[IF_NONE_MATCH],
)
def report_analysis(query: Mapping[str, Any], analysis_id: str) -> Response:
    """Report on an analysis that is done, in the form that the query or the Accept header asks for.

    It is dated by when the analysis was done.
    """
    form = wanted_form(query.get("form"), request.accept_mimetypes, VERDICT_FORMS)
    desk = kept_desks().analyses
    analysis = desk.brief(owner(), analysis_id)
    wish = {"paper": query["paper"], "shape": query["shape"], "locale": locale(query["locale"])}
    told = "-".join(value or "usual" for value in (form, *wish.values()))
    tag = f"{analysis.id}-{told}-{program_version().replace(' ', '-')}"
    if analysis.state == "done" and request.if_none_match.contains_weak(tag):
        answer = Response(status=304)
    elif form == "json":
        answer = json_answer(desk.document(owner(), analysis_id))
    else:
        report = desk.report(owner(), analysis_id, form=form, **wish)
        answer = report_answer(report, form, VERDICT_FORMS, named="verdict")
    answer.set_etag(tag, weak=True)  # another version of a library may set the same words otherwise
    return vary_by_accept(answer)


def shown(analysis: "KeptAnalysis") -> dict[str, Any]:
    """An analysis as it is answered, without its document."""
    path = f"/v1/analyses/{analysis.id}"
    problem = analysis.problem
    return {
        "id": analysis.id,
        "trial": analysis.trial_id,
        "trial_version": analysis.trial_version,
        "batches": analysis.batches,
        "state": analysis.state,
        "stage": analysis.stage,
        "created_at": analysis.created_at,
        "started_at": analysis.started_at,
        "finished_at": analysis.finished_at,
        "problem": None if problem is None else problem_document(**problem),
        "links": {
            "self": path,
            "trial": f"/v1/trials/{analysis.trial_id}",
            "report": f"{path}/report" if analysis.state == "done" else None,
        },
    }


def shown_whole(asked: "Asked") -> dict[str, Any]:
    """The same with its document."""
    return shown(asked.analysis) | {"analysis": asked.document}


def _preferences() -> list[str]:
    """The preferences of the request (RFC 7240) without their parameters; several headers are one list."""
    stated = ",".join(request.headers.getlist("Prefer")).lower().split(",")
    return [preference.split(";")[0].strip() for preference in stated]
