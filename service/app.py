"""The one place where the rooms are joined."""

from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING

from flask import Flask

from service.api.access import owner
from service.api.admission import Holder
from service.api.analyses import analyses
from service.api.archives import archives
from service.api.baselines import baselines
from service.api.channel_plans import channel_plans
from service.api.conductor_loss import conductor_loss
from service.api.design_checks import design_checks
from service.api.design_histories import design_histories
from service.api.desk import LOCALE, desk, hand_desk, hand_kept_desks, kept_desks
from service.api.guards import SECURITY_HEADERS, guard
from service.api.health import hand_checks, health
from service.api.kept_readings import kept_readings
from service.api.metrics import Metrics, hand_metrics, measured
from service.api.negotiation import CHECK_FORMS, PLAN_FORMS, VERDICT_FORMS
from service.api.plans import plans
from service.api.problems import PROBLEM_MEDIA_TYPE, answer_errors_of, problem_document, problem_of
from service.api.report_answers import report_answer
from service.api.specification import CONFIGURATION, ProblemApi, described
from service.api.strict_json import StrictProvider, json_text
from service.api.trials import trials
from service.api.verdicts import verdicts
from service.jobs.cluster import Cluster
from service.jobs.kept_desks import KeptDesks
from service.jobs.pool import Pool
from service.jobs.runners import Here, Runner
from service.jobs.verdicts import VerdictDesk
from service.pages.joined import Forms, Joined
from service.pages.site import join_pages
from service.settings import Limits, Settings

if TYPE_CHECKING:
    from service.jobs.analysis_line import AnalysisLine
    from service.jobs.delivery_line import Webhook
    from service.storage import Database

FORM_FIELD_BYTES = 2**20
NOUNS = (
    verdicts,
    trials,
    kept_readings,
    analyses,
    archives,
    baselines,
    channel_plans,
    conductor_loss,
    design_checks,
    design_histories,
    plans,
    described,
    health,
    measured,
)
"""The routes, in the order of the description."""


class Application(Flask):
    """The WSGI application, with what runs its work and what keeps it (opened when it is first used)."""

    kept: KeptDesks

    def __init__(self, runner: Runner, database: str | None):
        super().__init__(__name__, static_folder=None, template_folder=None)
        self.runner = runner
        self._named = database

    @cached_property
    def database(self) -> "Database":
        """What keeps trials; its library is loaded now."""
        from service.storage import Database
        from service.storage.place import database_url

        return Database(database_url(self._named))

    @property
    def line(self) -> "AnalysisLine":
        """What takes analyses that wait."""
        return self.kept.line

    def start(self) -> None:
        """Start what works now instead of with the first request, and take up analyses that wait."""
        self.runner.start()
        self.kept.start()

    def close(self) -> None:
        """End what works; analyses under way are put back, to be taken up again."""
        self.kept.close()
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
    app = Application(_runner(settings), settings.database)
    app.json = StrictProvider(app)
    app.url_map.strict_slashes = False
    app.url_map.merge_slashes = False
    app.config.from_mapping(_configuration(settings.limits) | {LOCALE: settings.locale})
    answer_errors_of(app)
    guard(app, settings, partial(_holder, app))
    api = ProblemApi(app)
    for noun in NOUNS:
        api.register_blueprint(noun)
    references = settings.references or _cache_folder()
    counted = Metrics(app.runner.load)
    hand_metrics(app, counted)
    hand_checks(app, partial(_database_trouble, app, settings))
    hand_desk(app, VerdictDesk(app.runner, limits=settings.limits, references=references, observer=counted))
    app.kept = KeptDesks(
        lambda: app.database,
        app.runner,
        settings.limits,
        references=references,
        observer=counted,
        at_once=max(1, settings.workers),
        in_use=partial(_in_use, settings),
        webhook=_webhook(settings),
    )
    hand_kept_desks(app, app.kept)
    join_pages(app, _joined(settings))
    return app


def _joined(settings: Settings) -> Joined:
    """What the pages use of the rest."""
    return Joined(
        verdicts=desk,
        kept=kept_desks,
        owner=owner,
        problem=problem_of,
        report=report_answer,
        forms=Forms(verdict=VERDICT_FORMS, plan=PLAN_FORMS, check=CHECK_FORMS),
        limits=settings.limits,
        locale=settings.locale,
    )


def _runner(settings: Settings) -> Runner:
    if settings.compute != Settings.compute:
        return Cluster(settings.compute, working=max(1, settings.workers), waiting=settings.limits.waiting)
    if settings.workers == 0:
        return Here()
    return Pool(settings.workers, waiting=settings.limits.waiting)


def _webhook(settings: Settings) -> "Webhook | None":
    if settings.webhook is None or settings.webhook_secret is None:
        return None
    from service.jobs.delivery_line import Webhook

    return Webhook(settings.webhook, settings.webhook_secret, settings.webhook_private == "allowed")


def _holder(app: Application, secret: str) -> Holder | None:
    from service.storage.tokens import Tokens

    return Tokens(app.database).holder(secret)


def _database_trouble(app: Application, settings: Settings) -> str | None:
    """What is wrong with the database, if one is used."""
    return "The database does not answer." if _in_use(settings) and not app.database.ready() else None


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
