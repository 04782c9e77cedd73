"""A clock that was set back: nothing is lost, refused or done twice for it."""

from datetime import timedelta

import pytest

from service.storage import clock
from tests.api.kept_requests import Kept, rows

DAYS = 3


@pytest.fixture
def set_back(monkeypatch):
    """Sets the clock back by days."""
    now = clock.now

    def set_back(days: int = DAYS) -> None:
        for module in ("clock", "holders"):
            monkeypatch.setattr(f"service.storage.{module}.now", lambda: now() - timedelta(days=days))

    return set_back


def test_batches_and_keys_go_on(kept_client, set_back):
    trial = Kept.new(kept_client)
    first = trial.sent(rows("a"), key="clock a")
    set_back()
    assert trial.sent(rows("b"), key="clock b")["batch"] == 2
    assert trial.sent(rows("a"), key="clock a") == first
    assert trial.sent(rows("b"), key="clock b")["batch"] == 2
    history = trial.get().json["kept"]["history"]["batches"]
    assert [batch["number"] for batch in history] == [1, 2]
    assert history[1]["at"] < history[0]["at"]
    assert trial.patch({"margin": 1, "reason": "after the clock"}).status_code == 200
    assert trial.get().json["kept"]["version"] == 4


def test_every_trial_stands_once_in_the_pages(kept_client, set_back):
    before = [Kept.new(kept_client).path for _ in range(2)]
    set_back()
    after = [Kept.new(kept_client).path for _ in range(3)]
    listed, page = [], "/v1/trials?limit=2"
    while page:
        answer = kept_client.get(page).json
        listed += [f"/v1/trials/{trial['id']}" for trial in answer["trials"]]
        page = answer["next"]
    assert len(listed) == len(set(listed))
    assert {*before, *after} <= set(listed)


def test_an_analysis_asked_for_after_is_done_and_found(kept_client, set_back):
    trial = Kept.new(kept_client)
    trial.sent(rows("ab", (1, 2)))
    first = kept_client.post(f"{trial.path}/analyses")
    assert first.status_code in {200, 201}, first.json
    set_back()
    trial.sent(rows("ab", (3,)))
    second = kept_client.post(f"{trial.path}/analyses")
    assert second.status_code == first.status_code, second.json
    assert second.headers["Location"] != first.headers["Location"]
    again = kept_client.post(f"{trial.path}/analyses")
    assert again.headers["Location"] == second.headers["Location"]
