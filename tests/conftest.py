"""Databases of both kinds, an application, a browser; examples that stay the same; answers as described."""

import os
import uuid

import pytest
from hypothesis import settings

from tests.postgres import PostgresServer

settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")


@pytest.fixture(scope="session", autouse=True)
def _no_data_of_the_user(tmp_path_factory):
    """Neither the user's database nor the settings of the user's environment, here and in what is started."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
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
    """An application with an empty SQLite and references of its own, one for each module of tests."""
    from service.app import create_app
    from service.settings import Settings

    folder = tmp_path_factory.mktemp("kept")
    app = create_app(Settings(database=f"sqlite:///{folder / 'kept.sqlite3'}", references=folder))
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
