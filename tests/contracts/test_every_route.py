"""What holds for all routes and pages: who may ask, from where, and what an answer never says."""

import pytest

from service.app import create_app
from service.settings import Limits, Settings
from service.storage.tokens import Tokens
from tests.contracts.every_route import KEPT, NOBODYS, routes_of

ROUTES = list(routes_of(create_app()))
OPEN = {
    "/healthz",
    "/readyz",
    "/v1/openapi.json",
    "/v1/problems/<name>",
    "/favicon.ico",
    "/static/<version>/<name>",
    "/how-often-wrong",
}
"""All that is answered without a token: it holds nothing of anybody."""
SCOPES = ("read", "write", "admin")
SECRET = "a value out of somebody's readings"  # noqa: S105 (no password)
TRIAL = {"title": "Quayside", "meter": {"unit": "bars", "highest": 10}}
ROWS = [{"element": e, "round": 1, "channel": "27", "value": v} for e, v in (("rod", 5), ("wire", 7))]
BODIES = {
    "PATCH /v1/trials/<trial_id>": {"title": "Mine now"},
    "POST /v1/trials/<trial_id>/readings": {"readings": ROWS},
}
FOREIGN = [
    {"Origin": "http://other.example"},
    {"Origin": "null"},
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
]
PATHS = [
    "/v1/trials/..%2f..%2fetc",
    "/v1/trials/%00",
    "/v1//trials",
    "/static/0/../../app.py",
    "/static/0/..%2f..%2fapp.py",
    "/v1/channel-plans/..%2fplans%2feurope",
    "/v1/problems/%2e%2e",
    "/%ff",
    "/v1/trials/\ufeff",
]
every_route = pytest.mark.parametrize("route", ROUTES, ids=str)
WITH_TOKEN = [route for route in ROUTES if route.scope in SCOPES]
OF_KEPT = [route for route in ROUTES if route.of_kept]


KEPT_BY_ALL = {"/favicon.ico", "/static/<version>/<name>"}
"""What a browser and whoever stands between may keep: files of the program."""


def is_closed(answer, *, kept_by_all: bool = False) -> None:
    """Whether an answer is closed to other origins, and to whoever keeps answers for several people."""
    policy = dict(
        part.strip().partition(" ")[::2] for part in answer.headers["Content-Security-Policy"].split(";")
    )
    assert (policy["default-src"], policy["frame-ancestors"]) == ("'none'", "'none'")
    sources = " ".join(policy.values())
    assert not any(word in sources for word in ("unsafe", "http", "*"))
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    keeping = {word.strip() for word in answer.headers["Cache-Control"].split(",")}
    assert kept_by_all or keeping in ({"private", "no-cache"}, {"no-store"})
    assert not {"Set-Cookie", "Access-Control-Allow-Origin", "Server", "X-Powered-By"} & set(
        answer.headers.keys()
    )


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    folder = tmp_path_factory.mktemp("routes")
    database, limits = f"sqlite:///{folder / 'kept.sqlite3'}", Limits(requests_per_minute=10**6)
    app = create_app(Settings(database=database, tokens="required", limits=limits))
    yield app
    app.close()
    app.database.close()


@pytest.fixture(scope="module")
def bearing(app):
    """Makes the headers of a token."""
    tokens = Tokens(app.database)
    made = {}

    def make(owner: str, may: str) -> dict[str, str]:
        if (owner, may) not in made:
            made[owner, may] = tokens.add(f"{owner}-{may}", owner=owner, may=may, days=1)
        return {"Authorization": f"Bearer {made[owner, may]}"}

    return make


@pytest.fixture(scope="module")
def kept(app, bearing):
    """The ids of what one owner keeps, one for each kind of it."""
    client, mine = app.test_client(), bearing("mine", "admin")
    trial = client.post("/v1/trials", json=TRIAL, headers=mine).json["id"]
    assert (
        client.post(f"/v1/trials/{trial}/readings", json={"readings": ROWS}, headers=mine).status_code == 201
    )
    analysis = client.post(f"/v1/trials/{trial}/analyses", headers=mine)
    assert analysis.status_code == 201, analysis.data
    named = {"name": "as sold", "trial": trial, "element": "rod"}
    baseline = client.post("/v1/baselines", json=named, headers=mine)
    assert baseline.status_code == 201, baseline.data
    return {"trial_id": trial, "analysis_id": analysis.json["id"], "baseline_id": baseline.json["id"]}


@pytest.fixture
def client(app):
    return app.test_client()


@pytest.fixture
def nobody(app):
    """Asks from an address of its own, so that no failure of one test closes the door to the next."""

    def ask(route):
        client = app.test_client()
        client.environ_base["REMOTE_ADDR"] = f"10.9.0.{ROUTES.index(route) + 1}"
        return route.ask(client)

    return ask


def test_the_routes_that_want_no_token_are_these():
    assert {route.rule for route in ROUTES if route.scope == "open"} == OPEN
    assert {route.scope for route in ROUTES} == {"open", *SCOPES}
    assert len(WITH_TOKEN) > 25
    assert {name for route in OF_KEPT for name in route.arguments} == set(KEPT)


@every_route
def test_without_a_token_nothing_but_what_is_open_is_answered(nobody, route):
    answer = nobody(route)
    is_closed(answer, kept_by_all=route.rule in KEPT_BY_ALL)
    if route.scope == "open":
        assert answer.status_code in {200, 404}
        return
    assert answer.status_code == 401
    assert answer.headers["WWW-Authenticate"].startswith("Bearer ")


@pytest.mark.parametrize("route", WITH_TOKEN, ids=str)
def test_a_token_of_a_lesser_scope_is_not_enough(client, bearing, route):
    for lesser in SCOPES[: SCOPES.index(route.scope)]:
        assert route.ask(client, bearing("mine", lesser)).status_code == 403
    assert route.ask(client, bearing("nobody", route.scope)).status_code not in {401, 403}


@every_route
def test_another_host_is_refused(client, bearing, route):
    headers = bearing("mine", "admin") | {"Host": "rebound.example"}
    answer = route.ask(client, headers)
    is_closed(answer)
    assert answer.status_code == 400


@every_route
@pytest.mark.parametrize("headers", FOREIGN, ids=str)
def test_a_page_of_another_site_changes_nothing_and_starts_nothing(client, bearing, route, headers):
    answer = route.ask(client, bearing("mine", "admin") | headers)
    is_closed(answer, kept_by_all=route.rule in KEPT_BY_ALL)
    assert (answer.status_code == 403) == (route.method != "GET")


@pytest.mark.parametrize("route", [route for route in OF_KEPT if route.method == "GET"], ids=str)
def test_what_an_owner_keeps_is_there(client, bearing, kept, route):
    """So that it is for the owner alone that it is not there in the next test."""
    assert route.ask(client, bearing("mine", "admin"), **kept).status_code == 200


@pytest.mark.parametrize("route", OF_KEPT, ids=str)
def test_what_another_owner_keeps_is_not_there(client, bearing, kept, route):
    """And nothing tells it from what never was."""
    headers = bearing("theirs", "admin") | {"If-Match": "*"}
    body = BODIES.get(str(route))
    answer, never = route.ask(client, headers, body, **kept), route.ask(client, headers, body)
    assert (answer.status_code, never.status_code) == (404, 404), answer.data
    told = answer.get_data(as_text=True)
    for name in route.arguments & kept.keys():
        told = told.replace(kept[name], NOBODYS)
    assert told == never.get_data(as_text=True)


@every_route
def test_a_fault_of_our_own_is_told_without_a_trace(client, bearing, route, monkeypatch):
    def fails(**_: str):
        raise KeyError(SECRET)

    fails.may = route.scope
    monkeypatch.setitem(client.application.view_functions, route.endpoint, fails)
    answer = route.ask(client, bearing("mine", "admin"))
    is_closed(answer)
    assert answer.status_code == 500
    told = answer.get_data(as_text=True)
    assert not any(word in told for word in (SECRET, "Traceback", "KeyError", ".py", "line "))
    assert answer.mimetype == ("text/html" if route.is_page else "application/problem+json")


@every_route
def test_every_answer_is_closed_to_other_origins(client, bearing, route):
    is_closed(route.ask(client, bearing("mine", "admin")), kept_by_all=route.rule in KEPT_BY_ALL)


@pytest.mark.parametrize("rule", sorted({route.rule for route in ROUTES}))
@pytest.mark.parametrize("method", ["TRACE", "OPTIONS", "PUT", "CONNECT", "BREW"])
def test_other_methods_are_refused_with_those_there_are(client, bearing, rule, method):
    (route, *others) = [route for route in ROUTES if route.rule == rule]
    answer = client.open(route.path(), method=method, headers=bearing("mine", "admin"))
    is_closed(answer)
    assert answer.status_code == 405
    allowed = {name.strip() for name in answer.headers["Allow"].split(",")}
    assert {each.method for each in (route, *others)} <= allowed


@pytest.mark.parametrize("path", PATHS)
def test_a_path_leads_to_nothing_but_a_route(client, bearing, path):
    answer = client.get(path, headers=bearing("mine", "admin"))
    is_closed(answer)
    assert answer.status_code == 404
    assert "Location" not in answer.headers
