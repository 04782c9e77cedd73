"""Who comes in, as whom, and what for: tokens over the real store, the loopback, hosts, and scopes."""

from dataclasses import replace

import pytest
from flask import g

from service.api.access import owner, require
from service.api.desk import hand_desk
from service.api.noun import Noun
from service.api.strict_json import json_answer
from service.app import create_app
from service.errors import NotAllowed
from service.settings import SCOPES, Limits, Settings
from service.storage.tokens import Tokens

ANY = "0.0.0.0"  # noqa: S104 (nothing is bound here)
CHALLENGE = 'Bearer realm="aerial-assay"'


def noticeboard() -> Noun:
    """Routes that say whose request it is, one for each scope."""
    noun = Noun("board", __name__, description="For the tests.")

    @noun.operation("/board", forms=[("application/json", {"type": "object"})])
    def look(_query):
        return json_answer({"owner": owner(), "may": g.may})

    @noun.operation("/board", method="POST", forms=[("application/json", {"type": "object"})])
    def pin(_query):
        return json_answer({"owner": owner()})

    return noun


@pytest.fixture
def make_app(tmp_path, desk):
    def make(**settings):
        url = f"sqlite:///{tmp_path}/kept.sqlite3"
        app = create_app(Settings(database=url, limits=Limits(requests_per_minute=30), **settings))
        app.extensions["flask-smorest"]["apis"][""]["ext_obj"].register_blueprint(noticeboard())
        hand_desk(app, desk)
        return app

    return make


@pytest.fixture
def app(make_app):
    return make_app(tokens="required")


@pytest.fixture
def tokens(app):
    return Tokens(app.database)


@pytest.fixture
def secrets(tokens):
    return {may: tokens.add(f"for-{may}", owner=f"{may}er", may=may, days=1) for may in SCOPES}


def bearing(token: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {token}"}


def test_a_valid_token_comes_in_as_its_owner(client, secrets):
    for may, secret in secrets.items():
        answer = client.get("/board", headers=bearing(secret))
        assert answer.json == {"owner": f"{may}er", "may": may}


@pytest.mark.parametrize(
    ("headers", "error"),
    [
        ({}, ""),
        ({"Authorization": "Basic YTpi"}, ""),
        (bearing(""), ', error="invalid_token"'),
        (bearing("aa_" + "0" * 64), ', error="invalid_token"'),
        (bearing("aa_' OR 1=1 --"), ', error="invalid_token"'),
    ],
)
def test_without_a_valid_token_nothing_is_answered(client, desk, headers, error):
    for answer in (client.get("/board", headers=headers), client.post("/v1/verdicts", headers=headers)):
        assert (answer.status_code, answer.content_type) == (401, "application/problem+json")
        assert answer.headers["WWW-Authenticate"] == CHALLENGE + error
        assert answer.json["type"] == "/v1/problems/token-wanted"
        assert "aerial-assay token add" in answer.json["detail"]
    assert desk.batches == []


def test_a_revoked_and_an_expired_token_are_worthless_at_once(client, tokens, secrets):
    assert client.get("/board", headers=bearing(secrets["read"])).status_code == 200
    assert tokens.revoke("for-read")
    expired = tokens.add("old", owner="o", may="read", days=0)
    for secret in (secrets["read"], expired):
        assert client.get("/board", headers=bearing(secret)).status_code == 401


def test_health_and_the_description_want_no_token(client):
    for path in ("/healthz", "/readyz", "/v1/openapi.json", "/v1/problems/token-wanted"):
        assert client.get(path).status_code == 200
    assert client.get("/metrics").status_code == client.get("/nowhere").status_code == 401


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        ("GET /board", "read"),
        ("POST /v1/verdicts", "read"),
        ("POST /board", "write"),
        ("GET /metrics", "admin"),
    ],
)
def test_a_scope_holds_those_before_it_and_no_other(client, secrets, asked, wanted):
    method, path = asked.split()
    for may, secret in secrets.items():
        answer = client.open(path, method=method, headers=bearing(secret), content_type="application/json")
        if SCOPES.index(may) >= SCOPES.index(wanted):
            assert answer.status_code == 200, answer.data
            continue
        assert (answer.status_code, answer.content_type) == (403, "application/problem+json")
        assert f'scope="{wanted}"' in answer.headers["WWW-Authenticate"]
        assert f"--may {wanted}" in answer.json["detail"]


def test_a_view_may_ask_for_more_itself(app):
    with app.test_request_context("/board"):
        require("admin")
        g.may = "write"
        require("read")
        with pytest.raises(NotAllowed, match="This token may write, and admin is wanted here"):
            require("admin")


def test_on_the_loopback_nobody_is_asked_but_a_token_given_counts(make_app):
    app = make_app()
    client, secret = app.test_client(), Tokens(app.database).add("a", owner="them", may="read", days=1)
    assert client.get("/board").json == {"owner": "", "may": "admin"}
    assert client.get("/board", headers=bearing(secret)).json == {"owner": "them", "may": "read"}
    assert client.post("/board", headers=bearing(secret)).status_code == 403
    assert client.get("/board", headers=bearing("aa_" + "0" * 64)).status_code == 401


def test_who_asks_from_elsewhere_is_asked_for_a_token_whatever_the_settings(make_app):
    client = make_app().test_client()
    for address in ("192.0.2.7", "2001:db8::1"):  # documentation addresses: RFC 5737, RFC 3849
        answer = client.get("/board", environ_base={"REMOTE_ADDR": address})
        assert answer.status_code == 401
    assert client.get("/board", environ_base={"REMOTE_ADDR": "::1"}).status_code == 200


@pytest.mark.parametrize("settings", [{"host": "192.0.2.5"}, {"host": ANY}, {"hosts": ("assay.example",)}])
def test_where_others_may_ask_everybody_is_asked_for_a_token(make_app, settings):
    assert make_app(**settings).test_client().get("/board").status_code == 401


def test_the_host_must_be_one_of_ours(make_app):
    app = make_app(host="192.0.2.5", hosts=("assay.example", "[2001:db8::5]"))
    client, secret = app.test_client(), Tokens(app.database).add("a", owner="o", may="read", days=1)
    statuses = {
        host: client.get("/board", headers={"Host": host, **bearing(secret)}).status_code
        for host in (
            "assay.example",
            "ASSAY.example:8080",
            "192.0.2.5:8080",
            "[2001:db8::5]:8080",
            "127.0.0.1",
            "other.example",
            "assay.example.other.example",
            "192.0.2.6",
            "[",
        )
    }
    assert {host for host, status in statuses.items() if status != 200} == {
        "other.example",
        "assay.example.other.example",
        "192.0.2.6",
        "[",
    }
    assert set(statuses.values()) == {200, 400}


def test_every_address_is_no_name_to_ask_for(make_app):
    app = make_app(host=ANY)
    answer = app.test_client().get("/board", headers={"Host": ANY})
    assert answer.status_code == 400
    assert "AERIAL_ASSAY_HOSTS" in answer.json["detail"]


def test_where_tokens_cannot_be_looked_up_nobody_comes_in(tmp_path):
    app = create_app(Settings(database=f"sqlite:///{tmp_path}", tokens="required"))  # a folder is no database
    answer = app.test_client().get("/metrics", headers=bearing("aa_" + "0" * 64))
    assert (answer.status_code, answer.content_type) == (503, "application/problem+json")
    assert int(answer.headers["Retry-After"]) >= 1


def test_a_page_of_another_site_cannot_use_a_token_either(client, secrets):
    headers = {"Origin": "http://other.example", **bearing(secrets["write"])}
    assert client.post("/board", headers=headers).status_code == 403


def test_a_command_in_this_process_needs_no_token_whatever_a_server_is_told(monkeypatch, tmp_path):
    from service.__main__ import create_app as for_commands

    for name, value in {"TOKENS": "required", "HOSTS": "assay.example", "HOST": "192.0.2.5"}.items():
        monkeypatch.setenv(f"AERIAL_ASSAY_{name}", value)
    monkeypatch.setenv("AERIAL_ASSAY_DATABASE", f"sqlite:///{tmp_path}/none.sqlite3")
    monkeypatch.setattr("service.operations.log_lines.log_to", lambda _stream: None)
    answer = for_commands().test_client().post("/v1/verdicts", data=b"{", content_type="application/json")
    assert answer.status_code == 400
    assert not (tmp_path / "none.sqlite3").exists()


def test_the_description_tells_of_tokens_and_of_every_scope(client):
    document = client.get("/v1/openapi.json").json
    scheme = document["components"]["securitySchemes"]["token"]
    assert (scheme["type"], scheme["scheme"]) == ("http", "bearer")
    assert document["paths"]["/v1/verdicts"]["post"]["security"] == [{"token": ["read"]}, {}]
    assert document["paths"]["/healthz"]["get"]["security"] == []
    for path, item in document["paths"].items():
        for operation in (part for name, part in item.items() if name != "parameters"):
            of_access = {"401", "403", "429"} & operation["responses"].keys()
            assert of_access == (set() if operation["security"] == [] else {"401", "403", "429"}), path


def test_settings_say_where_tokens_are_required():
    assert not Settings().tokens_required()
    assert not replace(Settings(), host="::1").tokens_required()
    for settings in ({"tokens": "required"}, {"hosts": ("a",)}, {"host": "::"}, {"host": "192.0.2.1"}):
        assert replace(Settings(), **settings).tokens_required()
