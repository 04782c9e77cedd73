"""Submitted work: its stages and states seen from outside, and cancelled at every point of its life."""

from functools import partial

import pytest

from service.errors import BadInput, TooLarge, TooMany
from service.jobs.failures import Cancelled, JobError
from service.jobs.runners import Here
from service.jobs.running import Control, Load
from tests.jobs import work
from tests.waiting import until

LONG = 60.0


@pytest.fixture
def here():
    here = Here()
    yield here
    here.close()


def waiting_for(runner, path):
    return runner.submit(partial(work.tell_and_wait, str(path)), seconds=LONG)


@pytest.fixture(params=["pool", "here"])
def runner(request):
    return request.getfixturevalue(request.param)


def test_stages_are_told_while_the_work_goes_on(runner, tmp_path):
    running = waiting_for(runner, tmp_path / "go")
    until(lambda: running.stage == "second")
    assert running.state == "running"
    assert not running.wait(0)
    (tmp_path / "go").touch()
    assert running.result() == str(tmp_path / "go")
    assert running.wait(0)
    assert (running.state, running.stage) == ("done", "second")
    running.cancel()
    assert running.state == "done"


def test_a_refusal_is_raised_where_the_result_is_asked_for(runner):
    running = runner.submit(work.tell_and_refuse, seconds=LONG)
    with pytest.raises(BadInput) as caught:
        running.result()
    assert caught.value.count == 7
    assert (running.state, running.stage) == ("failed", "first")


def test_cancelling_kills_the_worker_and_leaves_the_other_alone(pool, tmp_path):
    other = waiting_for(pool, tmp_path / "other")
    doomed = waiting_for(pool, tmp_path / "never")
    until(lambda: doomed.stage == other.stage == "second")
    doomed.cancel()
    with pytest.raises(Cancelled):
        doomed.result()
    assert (doomed.state, other.state) == ("cancelled", "running")
    assert pool.run(partial(work.add, 1, 2), seconds=LONG) == 3
    (tmp_path / "other").touch()
    assert other.result() == str(tmp_path / "other")


def test_what_waits_in_line_is_cancelled_there_and_its_place_given_back(pool, tmp_path):
    under_way = [waiting_for(pool, tmp_path / "go") for _ in range(2)]
    until(lambda: all(running.stage == "second" for running in under_way))
    in_line = waiting_for(pool, tmp_path / "go")
    assert (in_line.state, pool.load()) == ("waiting", Load(working=2, waiting=1))
    with pytest.raises(TooMany):
        waiting_for(pool, tmp_path / "go")
    in_line.cancel()
    with pytest.raises(Cancelled):
        in_line.result()
    assert (in_line.state, in_line.stage) == ("cancelled", "")
    until(lambda: pool.load() == Load(working=2, waiting=0))
    (tmp_path / "go").touch()
    assert [running.result() for running in under_way] == [str(tmp_path / "go")] * 2
    until(lambda: pool.load() == Load(working=0, waiting=0))


def test_submitted_work_past_its_deadline_is_ended(pool):
    running = pool.submit(partial(work.tell_and_wait, "/nowhere/at/all"), seconds=0.3)
    with pytest.raises(TooLarge, match=r"longer than the 0\.3 seconds"):
        running.result()
    assert running.state == "failed"
    assert pool.run(partial(work.add, 1, 2), seconds=LONG) == 3


def test_a_result_that_cannot_travel_is_a_failure_of_the_work(pool):
    with pytest.raises(JobError):
        pool.submit(work.unpicklable, seconds=LONG).result()
    assert pool.run(partial(work.add, 1, 2), seconds=LONG) == 3


def test_work_in_this_process_stops_at_its_next_stage(here, tmp_path):
    first = waiting_for(here, tmp_path / "go")
    until(lambda: first.stage == "second")
    second = waiting_for(here, tmp_path / "go")
    assert second.state == "waiting"
    second.cancel()
    (tmp_path / "go").touch()
    assert first.result() == str(tmp_path / "go")
    with pytest.raises(Cancelled):
        second.result()
    assert second.state == "cancelled"


def test_what_was_cancelled_before_a_worker_took_it_is_not_begun():
    control = Control()
    control.cancel()
    with pytest.raises(Cancelled), control.stoppable(pytest.fail):
        pytest.fail("begun")
    assert not control.begun
