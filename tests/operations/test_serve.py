"""`serve`: starts, answers, stops; and does not start where it must not."""

import os
import socket
import time
from pathlib import Path

import httpx
import pytest
from click.testing import CliRunner

from service.app import create_app
from service.operations.serve import serve
from service.operations.token import token
from service.settings import Settings, settings_from
from tests.faults.servers import children_of, lives
from tests.operations.kept_rows import run
from tests.started_server import start
from tests.waiting import until


def refused(*arguments: str, **environment: str):
    """The command's result, where it must end before it makes an application."""

    result = CliRunner().invoke(serve, arguments, obj=lambda _: pytest.fail("reached"), env=environment)
    assert result.exit_code != 0
    return result


def test_it_answers_at_the_address_it_prints(running):
    assert httpx.get(f"{running.url}/healthz").json() == {"status": "alive"}
    assert httpx.get(f"{running.url}/readyz").json() == {"status": "ready"}
    assert running.url.startswith("http://127.0.0.1:")


def test_it_does_not_name_its_software(running):
    assert "Server" not in httpx.get(f"{running.url}/healthz").headers


def test_it_ends_at_once_whoever_is_connected_and_takes_its_workers_along():
    server = start("--host", "localhost")
    workers = children_of(server.process.pid)
    assert workers
    with httpx.Client(base_url=server.url) as client:
        assert client.get("/healthz").status_code == 200
        asked = time.monotonic()
        assert server.stop() == (0, [])
        assert time.monotonic() - asked < Settings.stop_seconds / 2
    until(lambda: not any(map(lives, workers)))


def test_it_listens_on_the_other_loopback_too():
    if not socket.has_ipv6 or not Path("/proc/net/if_inet6").exists():
        pytest.skip("needs IPv6")
    server = start("--host", "::1")
    try:
        assert httpx.get(f"{server.url}/healthz").json() == {"status": "alive"}
    finally:
        server.stop()


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.5", "8.8.8.8"])  # noqa: S104 (must be refused)
def test_an_address_that_others_can_reach_is_refused(host):
    assert "can be reached from other machines" in refused("--host", host).output
    assert "can be reached from other machines" in refused(AERIAL_ASSAY_HOST=host).output


@pytest.mark.parametrize("host", ["aerial.example", "127.0.0.1:80", ""])
def test_an_address_that_is_none_is_refused(host):
    assert "is not an IP address" in refused("--host", host).output


def test_a_bad_setting_is_named():
    assert (
        "AERIAL_ASSAY_READINGS='many' is not a whole number from 1 up"
        in refused(AERIAL_ASSAY_READINGS="many").output
    )


def test_a_port_that_is_taken_is_told():
    class Application:
        wsgi_app = runner = property(lambda self: self)
        start = close = staticmethod(lambda: None)

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        result = CliRunner().invoke(serve, ["--port", port], obj=lambda _settings: Application())
    assert result.exit_code == 1
    assert f"Cannot listen on 127.0.0.1 port {port}: {os.strerror(98)}" in result.output


def add_token(database: Path, may: str) -> str:
    result = run(token, database, "add", f"for-{may}", "--may", may)
    assert result.exit_code == 0, result.output
    return result.output.strip()


@pytest.mark.parametrize(
    "setting", [{"AERIAL_ASSAY_TOKENS": "required"}, {"AERIAL_ASSAY_HOSTS": "assay.example"}]
)
def test_where_tokens_are_wanted_it_does_not_start_without_one(tmp_path, setting):
    database = tmp_path / "kept.sqlite3"
    place = {"AERIAL_ASSAY_DATABASE": f"sqlite:///{database}"}
    assert "127.0.0.1 wants tokens, and no valid token is there" in refused(**place, **setting).output
    assert not database.exists()
    add_token(database, "read")
    run(token, database, "revoke", "for-read")
    assert "aerial-assay token add" in refused("--host", "0.0.0.0", **place).output  # noqa: S104 (must be refused)


def test_with_a_token_it_listens_on_every_address_and_lets_no_other_in(tmp_path):
    database = tmp_path / "kept.sqlite3"
    secret = add_token(database, "admin")
    server = start("--host", "0.0.0.0", AERIAL_ASSAY_DATABASE=f"sqlite:///{database}")  # noqa: S104 (with a token)
    try:
        url = server.url.replace("0.0.0.0", "127.0.0.1")  # noqa: S104 (as it was printed)
        assert httpx.get(f"{url}/healthz").status_code == 200
        assert httpx.get(f"{url}/metrics").status_code == 401
        assert httpx.get(f"{url}/metrics", headers={"Authorization": f"Bearer {secret}"}).status_code == 200
    finally:
        server.ask_to_stop()
        status, log = server.ended()
    assert status == 0
    assert [(line["route"], line["status"], line["owner"]) for line in log] == [
        ("/healthz", 200, ""),
        ("/metrics", 401, ""),
        ("/metrics", 200, "for-admin"),
    ]
    assert secret not in str(log)


def test_readiness_asks_the_database_that_was_named(tmp_path):
    named = {"AERIAL_ASSAY_DATABASE": f"sqlite:///{tmp_path}"}  # a folder is no database
    app = create_app(settings_from(named))
    answer = app.test_client().get("/readyz")
    app.close()
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "10")
    assert answer.json["detail"] == "The database does not answer."
    assert app.test_client().get("/healthz").status_code == 200
