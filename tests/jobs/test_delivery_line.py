"""Notices of verdicts: written down with the verdict, told once it was taken, again where it was not."""

import json
import re
import threading
import time
from datetime import timedelta

import pytest

from service.errors import StorageUnavailable
from service.jobs.delivery_line import Webhook
from service.jobs.failures import Cancelled
from service.storage import analysis_rows, delivery_rows
from service.storage.clock import now_text
from service.storage.tables import TRIALS
from tests.jobs.kept import FAR_AWAY, GONE, OWNER, Away
from tests.jobs.receiver import TAKEN, Receiver, answer, listening
from tests.jobs.told import DOCUMENT, SECRET, Told
from tests.waiting import PATIENCE, until


@pytest.fixture(autouse=True)
def soon(monkeypatch):
    monkeypatch.setattr("service.jobs.analyst.LOOK_SECONDS", 0.02)
    monkeypatch.setattr("service.jobs.analysis_line.PAUSE_SECONDS", 0.05)
    monkeypatch.setattr("service.jobs.delivery_line.PAUSE_SECONDS", 0.05)
    monkeypatch.setattr("service.jobs.retrying.PAUSES", (timedelta(0),) * 8)


@pytest.fixture
def receiver():
    with listening(Receiver()) as receiver:
        yield receiver


@pytest.fixture
def server(database_url, receiver):
    server = Told(database_url, receiver.url)
    yield server
    with server.database.begin() as connection:
        connection.execute(TRIALS.delete())
    server.close()


def test_a_verdict_is_told_once_and_nothing_but_the_verdict(server, receiver):
    analysis = server.reach_verdict()
    until(lambda: server.states() == ["sent"])
    (delivery,) = server.deliveries()
    trial = server.desk.brief(OWNER, analysis).trial_id
    assert json.loads(receiver.came[0].body) == {
        "format": "verdict-notice/1",
        "delivery": delivery.id,
        "trial": trial,
        "analysis": analysis,
        "outcome": "clear winner",
        "statement": "The rod is better.",
        "report": f"/v1/analyses/{analysis}/report",
    }
    assert (delivery.tries, delivery.holder, delivery.trouble) == (1, None, None)
    until(lambda: server.counted.results == ["sent"])
    server.announcer.look()
    time.sleep(0.2)
    assert len(receiver.came) == 1


def test_a_receiver_that_was_down_is_told_when_it_is_up_again(database_url, caplog, monkeypatch):
    monkeypatch.setattr("service.jobs.retrying.PAUSES", (timedelta(0),) * 10_000)
    monkeypatch.setattr("service.jobs.delivery_line.MOST_TRIES", 10_000)
    with listening(Receiver()) as receiver:
        port, url = receiver.port, receiver.url
    server = Told(database_url, url)
    try:
        server.reach_verdict()
        until(lambda: "put off" in server.counted.results)
        assert "refused" in server.deliveries()[0].trouble
        with listening(Receiver(), port=port) as receiver:
            until(lambda: server.states() == ["sent"])
            assert len(receiver.came) == 1
        assert "did not take the notice" in caplog.text
        assert SECRET not in caplog.text
    finally:
        with server.database.begin() as connection:
            connection.execute(TRIALS.delete())
        server.close()


@pytest.mark.parametrize("status", [301, 302, 307, 400, 401, 404, 429, 500, 503])
def test_any_other_answer_is_tried_again_under_the_same_id_and_a_new_nonce(server, receiver, status):
    receiver.answers = [answer(status, f"Location: {receiver.url}", body=b"no"), TAKEN]
    server.reach_verdict()
    until(lambda: server.states() == ["sent"])
    first, second = receiver.came
    assert first.body == second.body
    nonces = {re.search('nonce="([^"]+)"', came.headers["signature-input"])[1] for came in (first, second)}
    assert len(nonces) == 2
    until(lambda: server.counted.results == ["put off", "sent"])


def test_a_receiver_that_is_gone_for_good_is_left_alone(server, receiver):
    receiver.answers = [answer(410)]
    server.reach_verdict()
    until(lambda: server.states() == ["given up"])
    (delivery,) = server.deliveries()
    assert (delivery.tries, delivery.trouble) == (1, "the answer was 410")
    until(lambda: server.counted.results == ["given up"])


def test_tries_are_counted_and_come_to_an_end(server, receiver, caplog):
    receiver.answers = [answer(500)]
    server.reach_verdict()
    until(lambda: server.states() == ["given up"])
    time.sleep(0.2)
    assert len(receiver.came) == 9
    assert server.deliveries()[0].tries == 9
    until(lambda: server.counted.results == ["put off"] * 8 + ["given up"])
    assert "(given up): the answer was 500" in caplog.text


def test_a_notice_waits_as_long_as_it_is_put_off(server, receiver, monkeypatch):
    monkeypatch.setattr("service.jobs.retrying.PAUSES", (timedelta(seconds=60),) * 8)
    monkeypatch.setattr("service.jobs.delivery_line.PAUSES", (timedelta(seconds=60),) * 8)
    receiver.answers = [answer(503), TAKEN]
    server.reach_verdict()
    until(lambda: server.states() == ["waiting"] and server.deliveries()[0].tries == 1)
    time.sleep(0.3)
    assert len(receiver.came) == 1
    server.change(due_at=now_text(plus=timedelta(days=1)))  # the clock was set back by a day
    until(lambda: server.states() == ["sent"])


def test_an_address_inside_is_refused_unless_it_is_allowed(database_url, receiver):
    server = Told(database_url, receiver.url, private_allowed=False)
    try:
        server.reach_verdict()
        until(lambda: server.states() == ["given up"])
        assert "not of the public internet" in server.deliveries()[0].trouble
        assert receiver.connections == 0
    finally:
        with server.database.begin() as connection:
            connection.execute(TRIALS.delete())
        server.close()


def test_two_servers_tell_of_every_verdict_once(database_url, server, receiver):
    other = Told(database_url, receiver.url)
    server.announcer._looker.leaving.set()  # nothing is sent while they are gathered
    asked = {server.reach_verdict() for _ in range(12)}
    server.announcer._looker.leaving.clear()
    try:
        server.announcer.look()
        other.announcer.look()
        until(lambda: server.states() == ["sent"] * 12)
        assert len(receiver.came) == 12
        assert {json.loads(came.body)["analysis"] for came in receiver.came} == asked
    finally:
        other.close()


def test_nobody_takes_over_what_is_being_sent(database_url, server, receiver):
    held = threading.Event()
    receiver.answers = [lambda link: (held.wait(PATIENCE), link.sendall(TAKEN))]
    other = Told(database_url, receiver.url)
    try:
        server.reach_verdict()
        until(lambda: receiver.came != [])
        other.announcer.look()
        time.sleep(0.3)
        held.set()
        until(lambda: server.states() == ["sent"])
        assert len(receiver.came) == 1
    finally:
        held.set()
        other.close()


@pytest.mark.parametrize(
    ("holder", "minutes", "again"),
    [(GONE, 0, True), (FAR_AWAY, -6, True), (FAR_AWAY, 6, True), (FAR_AWAY, -4, False)],
    ids=["gone", "far away and late", "clock set back", "far away and at work"],
)
def test_what_a_server_left_in_its_hands_is_sent_again(server, receiver, *, holder, minutes, again):
    server.announcer._looker.leaving.set()
    server.reach_verdict()
    held_at = now_text(plus=timedelta(minutes=minutes))
    server.change(state="sending", holder=holder, held_at=held_at, tries=1)
    server.announcer._looker.leaving.clear()
    server.announcer.look()
    if again:
        until(lambda: server.states() == ["sent"])
        assert server.deliveries()[0].tries == 2
    else:
        time.sleep(0.3)
        assert server.states() == ["sending"]
    assert len(receiver.came) == again


def test_a_server_that_ended_on_the_last_try_leaves_no_tenth(server, receiver):
    server.announcer._looker.leaving.set()
    server.reach_verdict()
    server.change(state="sending", holder=GONE, held_at=now_text(), tries=9)
    server.announcer._looker.leaving.clear()
    server.announcer.look()
    until(lambda: server.states() == ["given up"])
    assert receiver.came == []


def test_what_waits_when_a_server_leaves_is_sent_by_the_next(database_url, server, receiver):
    server.announcer.close()
    server.reach_verdict()
    assert server.states() == ["waiting"]
    following = Told(database_url, receiver.url)
    following.announcer.start()
    try:
        until(lambda: server.states() == ["sent"])
    finally:
        following.close()


def test_verdict_and_notice_are_kept_together_or_not_at_all(server, receiver, monkeypatch):
    trial = server.kept_trial()
    with monkeypatch.context() as patch:
        patch.setattr(delivery_rows, "insert_delivery", Away())
        patch.setattr(server.line, "_take", lambda _seen: None)
        asked = server.desk.ask(OWNER, trial).analysis
        with server.database.begin() as connection:
            assert analysis_rows.take(connection, asked, "me")
            held = analysis_rows.find_analysis(connection, OWNER, asked.id)
        threading.Thread(
            target=lambda: (server.runner.came.acquire(), server.runner.end(0, DOCUMENT))
        ).start()
        with pytest.raises(StorageUnavailable):
            server.analyst.see_through(held)
        assert server.state(asked.id) == "running"
    assert server.deliveries() == []
    assert receiver.came == []


def test_an_analysis_without_a_verdict_is_not_told(server, receiver):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert server.runner.came.acquire(timeout=PATIENCE)
    server.desk.cancel(OWNER, asked)
    until(server.runner.control(0).future.done)
    assert isinstance(server.runner.control(0).future.exception(), Cancelled)
    assert server.deliveries() == []
    assert receiver.came == []


def test_a_removed_trial_is_not_told_of(server):
    server.announcer.close()
    asked = server.reach_verdict()
    server.trials.remove(OWNER, server.desk.brief(OWNER, asked).trial_id, None)
    assert server.deliveries() == []


def test_a_database_that_is_gone_for_a_while_costs_nothing(server, receiver, monkeypatch, caplog):
    away = Away()
    with monkeypatch.context() as patch:
        patch.setattr(delivery_rows, "open_deliveries", away)
        server.reach_verdict()
        until(lambda: away.asked > 1)
        assert receiver.came == []
    until(lambda: server.states() == ["sent"])
    assert caplog.records == []


def test_a_fault_nobody_foresaw_is_logged_and_does_not_end_the_line(server, monkeypatch, caplog):
    def broken(*_arguments, **_more):
        raise KeyError("no")

    with monkeypatch.context() as patch:
        patch.setattr(delivery_rows, "open_deliveries", broken)
        server.reach_verdict()
        until(lambda: caplog.records != [])
    assert caplog.records[0].kind == "KeyError"
    until(lambda: server.states() == ["sent"])


def test_the_secret_is_not_shown():
    assert SECRET not in repr(Webhook("https://hooks.example/", SECRET, private_allowed=False))
