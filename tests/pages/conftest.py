"""The pages on a server of their own, and a browser that looks at them and must have nothing to say."""

import threading
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Page
from werkzeug.serving import make_server

from service.jobs.runners import Here
from tests.waiting import PATIENCE

MILLISECONDS = 60_000


@pytest.fixture(scope="module")
def app(sqlite_app):
    """The application whose pages are looked at; a module may have another."""
    return sqlite_app


@pytest.fixture(scope="module")
def client(app):
    """The same without a browser."""
    return app.test_client()


@pytest.fixture(scope="module")
def site(app):
    """The address of a server that answers it."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def held_back(monkeypatch):
    """An event; until it is set nothing that is submitted begins."""
    released, submit = threading.Event(), Here.submit

    def submit_held_back(runner, work, *, seconds):
        def later(*told):
            released.wait(PATIENCE)
            return work(*told)

        return submit(runner, later, seconds=seconds)

    monkeypatch.setattr(Here, "submit", submit_held_back)
    yield released
    released.set()


@dataclass
class Seen:
    """A page of the browser, and what its console said."""

    page: Page
    said: list[str] = field(default_factory=list)


@pytest.fixture
def look(browser, site):
    """Opens pages: `look(width=320, dark=True, script=False, ...)` gives a page of its own.

    At the end every console must be empty, but for the answers 4xx that a test says it `expects`.
    """
    opened: list[tuple[Seen, tuple[str, ...]]] = []

    def open_page(
        path="/", *, width=1280, height=900, dark=False, script=True, zone="UTC", expects=()
    ) -> Page:
        context = browser.new_context(
            base_url=site,
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            java_script_enabled=script,
            timezone_id=zone,
            accept_downloads=True,
        )
        context.set_default_timeout(MILLISECONDS)
        page = context.new_page()
        seen = Seen(page)
        page.on("console", lambda message: seen.said.append(message.text))
        page.on("pageerror", lambda error: seen.said.append(str(error)))
        opened.append((seen, tuple(expects)))
        page.goto(path)
        return page

    yield open_page
    for seen, expects in opened:
        said = [line for line in seen.said if not any(known in line for known in expects)]
        seen.page.context.close()
        assert said == []
