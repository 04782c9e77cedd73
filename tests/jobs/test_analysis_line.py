"""Analyses that wait: taken once, kept alive, cancelled, put back, and taken over from the dead."""

import os
import time
from dataclasses import replace

import pytest
from sqlalchemy import update

from service.errors import BadInput, Conflict, Fault, NotKnown, TooMany
from service.jobs import analyst
from service.jobs.failures import Failure, JobError
from service.storage import analysis_rows
from service.storage.holders import Holder
from service.storage.tables import ANALYSES
from tests.jobs.kept import DOCUMENT, FAR_AWAY, GONE, OWNER, Away, Server, Staged, table
from tests.waiting import PATIENCE, until


@pytest.fixture(autouse=True)
def soon(monkeypatch):
    monkeypatch.setattr(analyst, "LOOK_SECONDS", 0.02)
    monkeypatch.setattr("service.jobs.analysis_line.PAUSE_SECONDS", 0.05)


@pytest.fixture
def runner():
    runner = Staged()
    yield runner
    for number in range(len(runner.submitted)):
        runner.end(number)


@pytest.fixture
def server(database_url, runner):
    server = Server(database_url, runner)
    yield server
    server.line.close()
    with server.database.begin() as connection:
        connection.execute(ANALYSES.delete())
    server.close()


def held_by(server: Server, worker: str) -> str:
    """The id of an analysis that a worker elsewhere holds."""
    trial = server.kept_trial()
    with server.database.begin() as connection:
        held = analysis_rows.insert_analysis(connection, OWNER, trial, version=2, batches=1, worker=worker)
    return held.id


def test_a_waiting_analysis_is_done_and_its_stages_are_told(server, runner):
    asked = server.desk.ask(OWNER, server.kept_trial())
    assert (asked.analysis.state, asked.new, asked.document) == ("waiting", True, None)
    assert runner.came.acquire(timeout=PATIENCE)
    runner.control(0).tell("verdict")
    until(lambda: server.desk.brief(OWNER, asked.analysis.id).stage == "verdict")
    held = server.desk.brief(OWNER, asked.analysis.id)
    assert (held.state, held.trial_version, held.batches) == ("running", 2, 1)
    runner.end(0)
    until(lambda: server.state(asked.analysis.id) == "done")
    seen = server.desk.get(OWNER, asked.analysis.id)
    assert seen.document == DOCUMENT
    assert seen.analysis.stage is None
    assert seen.analysis.created_at <= seen.analysis.started_at <= seen.analysis.finished_at


def test_asking_again_while_it_is_on_its_way_gives_the_same(server):
    trial = server.kept_trial()
    first, second = (server.desk.ask(OWNER, trial) for _ in range(2))
    assert (first.analysis.id, second.new) == (second.analysis.id, False)


def test_two_servers_take_every_analysis_once(database_url, runner):
    other_runner = Staged()
    server, other = (Server(database_url, each, at_once=12) for each in (runner, other_runner))
    asked = [server.desk.ask(OWNER, trial).analysis.id for trial in [server.kept_trial() for _ in range(12)]]
    other.line.look()
    try:
        until(lambda: len(runner.submitted) + len(other_runner.submitted) == 12)
        server.line.look()
        other.line.look()
        time.sleep(0.3)  # a second taker would come now
        assert len(runner.submitted) + len(other_runner.submitted) == 12
        for each in (runner, other_runner):
            for number in range(len(each.submitted)):
                each.end(number)
        until(lambda: {server.state(analysis) for analysis in asked} == {"done"})
    finally:
        server.close()
        other.close()


def test_no_more_are_taken_at_once_than_there_are_workers(server, runner):
    for _ in range(3):
        server.desk.ask(OWNER, server.kept_trial())
    until(lambda: len(runner.submitted) == 2)
    time.sleep(0.2)
    assert len(runner.submitted) == 2
    runner.end(0)
    until(lambda: len(runner.submitted) == 3)


@pytest.mark.parametrize("begun", [False, True])
def test_cancelling_stops_the_work_and_nothing_comes_of_it(server, runner, begun):
    if not begun:
        server.line._at_once = 0
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    if begun:
        assert runner.came.acquire(timeout=PATIENCE)
    assert server.desk.cancel(OWNER, asked).state == "cancelled"
    if begun:
        until(runner.control(0).future.done)
    time.sleep(0.1)
    assert server.state(asked) == "cancelled"
    assert server.desk.get(OWNER, asked).document is None
    with pytest.raises(Conflict, match="is cancelled since"):
        server.desk.cancel(OWNER, asked)


def test_what_is_under_way_when_a_server_leaves_is_taken_up_by_the_next(database_url, server, runner):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    server.line.close()
    assert server.state(asked) == "waiting"
    next_runner = Staged()
    following = Server(database_url, next_runner)
    following.line.start()
    try:
        assert next_runner.came.acquire(timeout=PATIENCE)
        next_runner.end(0)
        until(lambda: following.state(asked) == "done")
    finally:
        following.close()


def test_the_work_of_a_dead_process_of_this_machine_is_taken_over_at_once(server, runner):
    held = held_by(server, GONE)
    server.line.look()
    assert runner.came.acquire(timeout=PATIENCE)
    runner.end(0)
    until(lambda: server.state(held) == "done")


def test_the_work_of_another_machine_is_taken_over_once_its_heartbeat_stands_still(server, runner):
    server.line._still_seconds = 0.4
    held = held_by(server, FAR_AWAY)
    server.line.look()
    for number in range(8):  # it beats, by a clock that runs backwards
        with server.database.begin() as connection:
            beat = f"2001-01-01T00:00:0{8 - number}.000000Z"
            connection.execute(update(ANALYSES).where(ANALYSES.c.id == held).values(heartbeat_at=beat))
        time.sleep(0.1)
    assert runner.submitted == []
    assert runner.came.acquire(timeout=PATIENCE)
    runner.end(0)
    until(lambda: server.state(held) == "done")


def test_a_live_process_of_this_machine_keeps_what_it_holds(server, runner):
    held_by(server, str(Holder(process=os.getppid())))
    server.line.look()
    time.sleep(0.3)
    assert runner.submitted == []


def test_whoever_was_taken_over_from_keeps_nothing(server, runner):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    with server.database.begin() as connection:
        connection.execute(update(ANALYSES).where(ANALYSES.c.id == asked).values(worker=FAR_AWAY))
    runner.end(0, DOCUMENT | {"late": True})
    time.sleep(0.2)
    assert server.state(asked) == "running"
    assert server.desk.get(OWNER, asked).document is None


def test_a_refusal_stands_with_the_analysis(server, runner):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    runner.fail(0, BadInput([Fault("at least one", pointer="#/readings")]))
    until(lambda: server.state(asked) == "failed")
    problem = server.desk.brief(OWNER, asked).problem
    assert problem["status"] == 422
    assert problem["errors"] == [{"pointer": "#/readings", "detail": "at least one"}]


def test_a_fault_nobody_foresaw_stands_there_by_the_id_in_the_log(server, runner, caplog):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    runner.fail(0, JobError(Failure("KeyError", ("a.py:1 in f",))))
    until(lambda: server.state(asked) == "failed")
    problem = server.desk.brief(OWNER, asked).problem
    assert problem["status"] == 500
    assert [record.problem_id for record in caplog.records] == [problem["id"]]


def test_without_room_for_it_it_waits_on(server, runner):
    runner.refuses = TooMany("busy")
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    until(lambda: runner.refused > 1)
    assert server.desk.get(OWNER, asked).document is None
    runner.refuses = None
    assert runner.came.acquire(timeout=PATIENCE)
    runner.end(0)
    until(lambda: server.state(asked) == "done")


def test_a_database_that_is_gone_for_a_while_costs_nothing(server, runner, monkeypatch):
    asked = server.desk.ask(OWNER, server.kept_trial()).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    held, listed = Away(), Away()
    with monkeypatch.context() as patch:
        patch.setattr(analysis_rows, "still_held", held)
        patch.setattr(analysis_rows, "open_analyses", listed)
        server.line.look()
        until(lambda: held.asked and listed.asked)
    runner.end(0)
    until(lambda: server.state(asked) == "done")


def test_a_trial_removed_meanwhile_takes_its_analyses_along(server, runner):
    trial = server.kept_trial(table(range(1, 3)))
    asked = server.desk.ask(OWNER, trial).analysis.id
    assert runner.came.acquire(timeout=PATIENCE)
    server.trials.remove(OWNER, trial, None)
    until(runner.control(0).future.done)
    with pytest.raises(NotKnown):
        server.desk.get(OWNER, asked)


def test_a_row_is_taken_only_as_it_was_seen(server):
    server.line._at_once = 0
    seen = server.desk.ask(OWNER, server.kept_trial()).analysis
    with server.database.begin() as connection:
        assert not analysis_rows.take(connection, replace(seen, worker=GONE), "me")
        assert analysis_rows.take(connection, seen, "me")
        assert not analysis_rows.take(connection, seen, "you")
        assert not analysis_rows.keep_alive(connection, seen.id, "you")
        assert analysis_rows.keep_alive(connection, seen.id, "me", stage="verdict")


def test_one_that_was_cancelled_since_it_was_seen_is_not_taken(server):
    server.line._at_once = 0
    seen = server.desk.ask(OWNER, server.kept_trial()).analysis
    server.desk.cancel(OWNER, seen.id)
    with server.database.begin() as connection:
        assert not analysis_rows.take(connection, seen, "me")
