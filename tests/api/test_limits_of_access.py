"""Too many requests, and too many without a valid token: 429 with the limit, the wait and the remedy."""

import pytest

from service.api.desk import hand_desk
from service.app import create_app
from service.settings import Limits, Settings
from service.storage.tokens import Tokens

WRONG = {"Authorization": "Bearer aa_" + "0" * 64}
HERE, ELSEWHERE = "127.0.0.1", "192.0.2.9"


@pytest.fixture
def app(tmp_path, desk):
    url = f"sqlite:///{tmp_path}/kept.sqlite3"
    app = create_app(Settings(database=url, tokens="required", limits=Limits(requests_per_minute=5)))
    hand_desk(app, desk)
    return app


@pytest.fixture
def bearing(app):
    tokens = Tokens(app.database)

    def make(name: str) -> dict[str, str]:
        return {"Authorization": f"Bearer {tokens.add(name, owner='o', may='read', days=1)}"}

    return make


def ask(client, headers, address=HERE):
    """A route that wants a token; what is there does not matter."""
    return client.get("/nowhere", headers=headers, environ_base={"REMOTE_ADDR": address})


def refused(answer) -> str:
    assert (answer.status_code, answer.content_type) == (429, "application/problem+json")
    wait = int(answer.headers["Retry-After"])
    assert 1 <= wait <= 60
    assert f"Wait {wait} seconds." in answer.json["detail"]
    return answer.json["detail"]


def test_a_token_may_ask_so_often_a_minute(client, bearing):
    first, second = bearing("first"), bearing("second")
    assert [ask(client, first).status_code for _ in range(5)] == [404] * 5
    assert "A token may ask 5 times a minute" in refused(ask(client, first))
    assert ask(client, second).status_code == 404


def test_health_is_told_however_often_it_is_asked(client):
    assert {client.get("/healthz", headers=WRONG).status_code for _ in range(20)} == {200}


@pytest.mark.parametrize("headers", [WRONG, {}])
def test_ten_failures_a_minute_close_the_door_to_an_address(client, bearing, headers):
    valid = bearing("valid")
    assert [ask(client, headers).status_code for _ in range(10)] == [401] * 10
    assert "10 requests without a valid token came from this address" in refused(ask(client, headers))
    refused(ask(client, valid))  # a guess that is right cannot be told from one that is wrong
    assert ask(client, valid, ELSEWHERE).status_code == 404


def test_a_valid_token_is_no_failure(client, bearing):
    valid = bearing("valid")
    for _ in range(4):
        assert ask(client, valid).status_code == 404
    assert [ask(client, WRONG).status_code for _ in range(10)] == [401] * 10


def test_a_network_of_addresses_counts_as_one(client):
    for number in range(10):
        assert ask(client, WRONG, f"2001:db8:7:7::{number:x}").status_code == 401
    refused(ask(client, WRONG, "2001:db8:7:7:ffff::1"))
    assert ask(client, WRONG, "2001:db8:7:8::1").status_code == 401


def test_an_address_in_its_long_form_is_the_same_and_no_network(client):
    for _ in range(10):
        assert ask(client, WRONG, "::ffff:192.0.2.9").status_code == 401
    refused(ask(client, WRONG, "192.0.2.9"))
    assert ask(client, WRONG, "::ffff:192.0.2.10").status_code == 401


def test_the_door_opens_again(client, bearing, app, monkeypatch):
    valid = bearing("valid")
    for _ in range(10):
        ask(client, WRONG)
    refused(ask(client, valid))
    from service.api import allowances

    real = allowances.time.monotonic
    admissions = [f.__self__ for f in app.before_request_funcs[None] if hasattr(f, "__self__")]
    (admission,) = admissions
    monkeypatch.setattr(admission._failures, "_clock", lambda: real() + 60)
    assert ask(client, valid).status_code == 404
