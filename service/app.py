"""The one place where the rooms are joined."""

from pathlib import Path

from flask import Flask

from service.api.desk import hand_desk
from service.api.guards import SECURITY_HEADERS, guard
from service.api.health import health
from service.api.problems import PROBLEM_MEDIA_TYPE, answer_errors_of, problem_document
from service.api.specification import CONFIGURATION, ProblemApi, described
from service.api.strict_json import StrictProvider, json_text
from service.api.verdicts import verdicts
from service.jobs.pool import Pool
from service.jobs.runners import Here, Runner
from service.jobs.verdicts import VerdictDesk
from service.settings import Limits, Settings

FORM_FIELD_BYTES = 2**20


class Application(Flask):
    """The WSGI application, with what runs its work."""

    def __init__(self, runner: Runner):
        super().__init__(__name__, static_folder=None, template_folder=None)
        self.runner = runner

    def log_exception(self, exc_info: object) -> None:
        """Nothing: the log gets what `service.api.problems` tells it, without the data of the request."""

    def protocol_problem(self, status: int, detail: str) -> tuple[list[tuple[str, str]], bytes]:
        """Headers and body of a problem that a server found before the application was asked."""
        body = json_text(problem_document(status, detail))
        return [("Content-Type", PROBLEM_MEDIA_TYPE), *SECURITY_HEADERS.items()], body


def create_app(settings: Settings | None = None) -> Application:
    """The application. Without settings their defaults hold."""
    settings = settings or Settings()
    app = Application(_runner(settings))
    app.json = StrictProvider(app)
    app.url_map.strict_slashes = False
    app.url_map.merge_slashes = False
    app.config.from_mapping(_configuration(settings.limits))
    answer_errors_of(app)
    guard(app)
    api = ProblemApi(app)
    for noun in (verdicts, described, health):
        api.register_blueprint(noun)
    references = settings.references or _cache_folder()
    hand_desk(app, VerdictDesk(app.runner, limits=settings.limits, references=references))
    return app


def _runner(settings: Settings) -> Runner:
    if settings.workers == 0:
        return Here()
    return Pool(settings.workers, waiting=settings.limits.waiting)


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
