"""Two owners do not see one another: what one keeps is not there for the other."""

import pytest

from service.app import create_app
from service.settings import Settings
from service.storage.tokens import Tokens

TRIAL = {"title": "Quayside", "meter": {"unit": "bars", "highest": 10}}
ROWS = [{"element": e, "round": 1, "channel": "27", "value": v} for e, v in (("rod", 5), ("wire", 7))]


@pytest.fixture
def clients(tmp_path):
    url = f"sqlite:///{tmp_path}/kept.sqlite3"
    app = create_app(Settings(database=url, tokens="required"))
    tokens = Tokens(app.database)
    made = {}
    for name in ("mine", "also-mine", "theirs"):
        secret = tokens.add(name, owner=name.removeprefix("also-"), may="write", days=1)
        made[name] = app.test_client()
        made[name].environ_base["HTTP_AUTHORIZATION"] = f"Bearer {secret}"
    yield made
    app.close()
    app.database.close()


@pytest.fixture
def trial(clients):
    """The path of a trial of mine with readings and an analysis."""
    answer = clients["mine"].post("/v1/trials", json=TRIAL)
    assert answer.status_code == 201, answer.data
    path = f"/v1/trials/{answer.json['id']}"
    assert clients["mine"].post(f"{path}/readings", json={"readings": ROWS}).status_code == 201
    return path


def gone(answer) -> None:
    assert (answer.status_code, answer.content_type) == (404, "application/problem+json"), answer.data


def test_every_token_of_an_owner_sees_what_the_owner_keeps(clients, trial):
    for name in ("mine", "also-mine"):
        assert clients[name].get(trial).status_code == 200
        assert [kept["id"] for kept in clients[name].get("/v1/trials").json["trials"]] == [
            trial.split("/")[-1]
        ]


def test_another_owner_is_told_that_it_is_not_there(clients, trial):
    theirs = clients["theirs"]
    assert theirs.get("/v1/trials").json["trials"] == []
    for path in (trial, f"{trial}/readings", f"{trial}/analyses"):
        gone(theirs.get(path))
    match = {"If-Match": '"1"'}
    gone(theirs.patch(trial, json={"title": "Mine now"}, headers=match))
    gone(theirs.delete(trial, headers=match))
    gone(theirs.post(f"{trial}/readings", json={"readings": ROWS}))
    gone(theirs.post(f"{trial}/analyses"))
    assert clients["mine"].get(trial).json["title"] == "Quayside"


def test_an_analysis_is_its_owners_alone(clients, trial):
    analysed = clients["mine"].post(f"{trial}/analyses")
    assert analysed.status_code in {200, 201}, analysed.data
    (listed,) = clients["mine"].get(f"{trial}/analyses").json["analyses"]
    path = f"/v1/analyses/{listed['id']}"
    assert clients["also-mine"].get(path).status_code == 200
    for answer in (
        clients["theirs"].get(path),
        clients["theirs"].get(f"{path}/report?form=html"),
        clients["theirs"].delete(path),
    ):
        gone(answer)


def test_the_same_idempotency_key_of_two_owners_is_two_keys(clients):
    answers = [
        clients[name].post("/v1/trials", json=TRIAL, headers={"Idempotency-Key": "k"})
        for name in ("mine", "theirs")
    ]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert answers[0].json["id"] != answers[1].json["id"]
