"""Databases of both kinds, an application, a browser; examples that stay the same; answers as described."""

import io
import logging
import os
import uuid
from pathlib import Path

import pytest
from hypothesis import settings

from tests.faults.servers import Forked
from tests.postgres import PostgresServer

settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")


def _folder_of_the_run(tmp_path_factory) -> Path:
    """A folder that all test processes of one run share."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session", autouse=True)
def _nothing_of_the_user(tmp_path_factory):
    """No data, references or settings of the user's, here and in what is started.

    A run computes each reference once, whichever of its processes needs it first. The list of fonts stays the
    user's, and what is started keeps what it has compiled: else each process would spend seconds on either.
    """
    with pytest.MonkeyPatch.context() as patch:
        cache = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
        patch.setenv("MPLCONFIGDIR", os.environ.get("MPLCONFIGDIR") or str(Path(cache) / "matplotlib"))
        patch.setenv("XDG_CACHE_HOME", str(_folder_of_the_run(tmp_path_factory) / "cache"))
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        for name in [name for name in os.environ if name.startswith("AERIAL_ASSAY_")]:
            patch.delenv(name)
        yield


@pytest.fixture(scope="session")
def _watch():
    from tests.contracts.described_answers import Watch

    watch = Watch()
    yield watch
    watch.end()


@pytest.fixture(autouse=True)
def _every_answer_is_as_described(_watch):
    """Whatever an application answered, here or while the test was set up, is what its description says."""
    _watch.listen()
    yield
    _watch.listen()
    assert _watch.heard() == []


@pytest.fixture(scope="session")
def postgres():
    """A running PostgreSQL, one for each test process."""
    server = PostgresServer.make()
    yield server
    server.close()


@pytest.fixture(scope="session")
def forked(tmp_path_factory):
    """Starts servers quickly, one process for each test process; none may have had a fault of its own."""
    log = tmp_path_factory.mktemp("servers") / "log"
    starter = Forked(log)
    yield starter
    starter.close()
    assert log.read_text() == ""


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def database_url(request, tmp_path_factory):
    """The URL of an empty database of each kind, one for each module of tests."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path_factory.mktemp('database') / 'kept.sqlite3'}"
    name = f"tests_{uuid.uuid4().hex[:12]}"
    return request.getfixturevalue("postgres").new_database(name)


@pytest.fixture(scope="module")
def kept_client(database_url):
    """A client of an application that keeps trials in a database of each kind."""
    from service.app import create_app
    from service.settings import Settings

    app = create_app(Settings(database=database_url))
    yield app.test_client()
    app.close()
    app.database.close()


@pytest.fixture(scope="module")
def sqlite_app(tmp_path_factory):
    """An application with an empty SQLite, one for each module of tests."""
    from service.app import create_app
    from service.settings import Settings

    app = create_app(Settings(database=f"sqlite:///{tmp_path_factory.mktemp('kept') / 'kept.sqlite3'}"))
    yield app
    app.close()
    app.database.close()


@pytest.fixture(scope="module")
def browser():
    """Debian's Chromium, one for each module of tests, which looks nothing up by itself."""
    from playwright.sync_api import sync_playwright

    quiet = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"]
    quiet += ["--disable-background-networking", "--disable-component-update", "--disable-sync"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=quiet)
        yield browser
        browser.close()


@pytest.fixture
def log():
    """What the log takes, as `serve` writes it, requests too."""
    from service.operations.log_lines import log_to

    root, requests = logging.getLogger(), logging.getLogger("aerial_assay.requests")
    before = root.handlers[:], root.level, requests.level
    stream = io.StringIO()
    log_to(stream, requests=True)
    yield stream
    root.handlers[:] = before[0]
    root.setLevel(before[1])
    requests.setLevel(before[2])
    logging.getLogger("waitress.queue").setLevel(logging.NOTSET)
