"""The one place where the rooms are joined."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from flask import Flask

from service.api.admission import Holder
from service.api.analyses import analyses
from service.api.analyses_desk import hand_analyses_desk
from service.api.archives import archives, hand_archive_desk
from service.api.channel_plans import channel_plans
from service.api.conductor_loss import conductor_loss
from service.api.design_checks import design_checks, hand_check_desk
from service.api.desk import hand_desk
from service.api.guards import SECURITY_HEADERS, guard
from service.api.health import hand_checks, health
from service.api.kept_desks import hand_kept_desks
from service.api.kept_readings import kept_readings
from service.api.metrics import Metrics, hand_metrics, measured
from service.api.plans import hand_plan_desk, plans
from service.api.problems import PROBLEM_MEDIA_TYPE, answer_errors_of, problem_document
from service.api.specification import CONFIGURATION, ProblemApi, described
from service.api.strict_json import StrictProvider, json_text
from service.api.trials import trials
from service.api.verdicts import verdicts
from service.jobs.analysis_line import AnalysisLine
from service.jobs.analyst import Analyst
from service.jobs.archive_desk import ArchiveDesk
from service.jobs.cluster import Cluster
from service.jobs.design_checks import CheckDesk
from service.jobs.kept_analyses import KeptAnalyses
from service.jobs.kept_readings import KeptReadings
from service.jobs.kept_trials import KeptTrials
from service.jobs.observing import Observer
from service.jobs.plans import PlanDesk
from service.jobs.pool import Pool
from service.jobs.runners import Here, Runner
from service.jobs.verdicts import VerdictDesk
from service.settings import Limits, Settings

if TYPE_CHECKING:
    from service.storage import Database

FORM_FIELD_BYTES = 2**20


class Application(Flask):
    """The WSGI application, with what runs its work and what keeps it (opened when it is first used)."""

    def __init__(self, runner: Runner, database: "Database"):
        super().__init__(__name__, static_folder=None, template_folder=None)
        self.runner = runner
        self.database = database
        self.line: AnalysisLine | None = None

    def start(self) -> None:
        """Start what works now instead of with the first request, and take up analyses that wait."""
        self.runner.start()
        if self.line is not None:
            self.line.start()

    def close(self) -> None:
        """End what works; analyses under way are put back, to be taken up again."""
        if self.line is not None:
            self.line.close()
        self.runner.close()

    def log_exception(self, exc_info: object) -> None:
        """Nothing: the log gets what `service.api.problems` tells it, without the data of the request."""

    def protocol_problem(self, status: int, detail: str) -> tuple[list[tuple[str, str]], bytes]:
        """Headers and body of a problem that a server found before the application was asked."""
        body = json_text(problem_document(status, detail))
        return [("Content-Type", PROBLEM_MEDIA_TYPE), *SECURITY_HEADERS.items()], body


def create_app(settings: Settings | None = None) -> Application:
    """The application. Without settings their defaults hold."""
    settings = settings or Settings()
    app = Application(_runner(settings), _database(settings))
    app.json = StrictProvider(app)
    app.url_map.strict_slashes = False
    app.url_map.merge_slashes = False
    app.config.from_mapping(_configuration(settings.limits))
    answer_errors_of(app)
    guard(app, settings, partial(_holder, app.database))
    api = ProblemApi(app)
    for noun in (
        verdicts,
        trials,
        kept_readings,
        analyses,
        archives,
        channel_plans,
        conductor_loss,
        design_checks,
        plans,
        described,
        health,
        measured,
    ):
        api.register_blueprint(noun)
    references = settings.references or _cache_folder()
    counted = Metrics(app.runner.load)
    hand_metrics(app, counted)
    hand_checks(app, partial(_database_trouble, app.database, settings))
    desk = VerdictDesk(app.runner, limits=settings.limits, references=references, observer=counted)
    hand_desk(app, desk)
    _keep_trials(app, settings, references=references, observer=counted)
    return app


def _keep_trials(app: Application, settings: Settings, *, references: Path, observer: Observer) -> None:
    limits = settings.limits
    kept = KeptTrials(app.database, limits)
    hand_kept_desks(app, kept, KeptReadings(app.database, app.runner, limits))
    hand_plan_desk(app, PlanDesk(app.runner, kept, limits, references))
    hand_check_desk(app, CheckDesk(app.runner, kept, limits=limits, references=references))
    joined = (kept, app.database, app.runner)
    analyst = Analyst(*joined, limits=limits, references=references, observer=observer)
    at_once, in_use = max(1, settings.workers), partial(_in_use, settings)
    app.line = AnalysisLine(app.database, analyst, app.runner, at_once=at_once, in_use=in_use)
    judged = KeptAnalyses(*joined, analyst=analyst, line=app.line, limits=limits)
    hand_analyses_desk(app, judged)
    hand_archive_desk(
        app, ArchiveDesk(app.database, judged, app.runner, limits=limits, references=references)
    )


def _runner(settings: Settings) -> Runner:
    if settings.compute != Settings.compute:
        return Cluster(settings.compute, working=max(1, settings.workers), waiting=settings.limits.waiting)
    if settings.workers == 0:
        return Here()
    return Pool(settings.workers, waiting=settings.limits.waiting)


def _database(settings: Settings) -> "Database":
    from service.storage import Database
    from service.storage.place import database_url

    return Database(database_url(settings.database))


def _holder(database: "Database", secret: str) -> Holder | None:
    from service.storage.tokens import Tokens

    return Tokens(database).holder(secret)


def _database_trouble(database: "Database", settings: Settings) -> str | None:
    """What is wrong with the database, if one is used."""
    return "The database does not answer." if _in_use(settings) and not database.ready() else None


def _in_use(settings: Settings) -> bool:
    """Whether there is a database to look at: it was named, or it is there already."""
    from service.storage.place import database_url, is_there

    return settings.database is not None or is_there(database_url(None))


def _configuration(limits: Limits) -> dict[str, object]:
    return {
        **CONFIGURATION,
        "MAX_CONTENT_LENGTH": limits.body_bytes,
        "MAX_FORM_MEMORY_SIZE": FORM_FIELD_BYTES,
        "PROPAGATE_EXCEPTIONS": False,
        "PROVIDE_AUTOMATIC_OPTIONS": False,
    }


def _cache_folder() -> Path:
    """The folder of the bell-shaped references in the user's cache."""
    from platformdirs import user_cache_path

    return user_cache_path("aerial-assay", appauthor=False) / "references"
