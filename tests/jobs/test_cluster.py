"""What a real cluster of two workers does with work, and with work that goes wrong."""

import os
import sys
import time
from functools import partial

import pytest

from service.errors import BadInput, TooLarge, TooMany
from service.jobs.cluster import Cluster
from service.jobs.failures import (
    Cancelled,
    ComputeUnavailableError,
    ExtraMissingError,
    JobError,
    WorkerLostError,
)
from service.jobs.running import Load
from tests.jobs import work
from tests.jobs.started_cluster import scheduler, workers
from tests.waiting import until

LONG = 60.0
WORKERS = 2


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cluster")
    with scheduler(folder) as address, workers(address, WORKERS, folder):
        yield address


@pytest.fixture(scope="module")
def cluster(address):
    cluster = Cluster(address, working=2, waiting=1)
    cluster.start()
    until(lambda: cluster.ready() and len(cluster._client.nthreads()) == WORKERS)
    yield cluster
    cluster.close()


def test_work_is_done_on_the_workers(cluster):
    assert cluster.run(partial(work.add, 2, 3), seconds=LONG) == 5
    assert cluster.run(work.process_id, seconds=LONG) != os.getpid()


def test_a_refusal_and_a_failure_come_back_whole(cluster):
    with pytest.raises(BadInput) as refused:
        cluster.run(work.refuse, seconds=LONG)
    assert refused.value.count == 7
    with pytest.raises(JobError) as failed:
        cluster.run(work.fail, seconds=LONG)
    assert failed.value.failure.kind == "RuntimeError"


def test_stages_are_told_across_the_wire_and_the_line_is_counted(cluster, tmp_path):
    go = tmp_path / "go"
    both = [cluster.submit(partial(work.tell_and_wait, str(go)), seconds=LONG) for _ in range(2)]
    until(lambda: all(running.stage == "second" for running in both))
    in_line = cluster.submit(partial(work.tell_and_wait, str(go)), seconds=LONG)
    assert (in_line.state, cluster.load()) == ("waiting", Load(working=2, waiting=1))
    assert not cluster.ready()
    with pytest.raises(TooMany):
        cluster.run(work.process_id, seconds=LONG)
    go.touch()
    assert [running.result() for running in (*both, in_line)] == [str(go)] * 3


def test_cancelling_frees_the_worker_and_leaves_the_other_alone(cluster, tmp_path):
    other = cluster.submit(partial(work.tell_and_wait, str(tmp_path / "other")), seconds=LONG)
    doomed = cluster.submit(partial(work.tell_and_wait, str(tmp_path / "never")), seconds=LONG)
    until(lambda: doomed.stage == other.stage == "second")
    doomed.cancel()
    with pytest.raises(Cancelled):
        doomed.result()
    assert (doomed.state, other.state) == ("cancelled", "running")
    assert cluster.run(partial(work.add, 1, 2), seconds=LONG) == 3
    (tmp_path / "other").touch()
    assert other.result() == str(tmp_path / "other")


def test_work_past_its_deadline_is_ended_and_the_next_is_done(cluster):
    start = time.monotonic()
    with pytest.raises(TooLarge, match=r"longer than the 0\.5 seconds"):
        cluster.run(partial(work.sleep, LONG), seconds=0.5)
    both = [cluster.submit(partial(work.tell_and_wait, __file__), seconds=LONG) for _ in range(2)]
    assert [running.result() for running in both] == [__file__] * 2
    assert time.monotonic() - start < LONG / 2


def test_a_worker_killed_mid_way_costs_a_second_try_only(cluster, tmp_path):
    running = cluster.submit(partial(work.die_until, str(tmp_path)), seconds=LONG)
    assert running.result() == "the second time"
    assert sorted(os.listdir(tmp_path)) == ["0", "1"]


def test_work_that_kills_every_worker_is_a_clear_problem(cluster):
    with pytest.raises(WorkerLostError) as caught:
        cluster.run(work.die, seconds=LONG)
    assert (caught.value.status, caught.value.headers) == (503, {"Retry-After": "5"})
    assert cluster.run(partial(work.add, 1, 2), seconds=LONG) == 3


def test_a_scheduler_without_workers_and_one_that_is_gone_are_told(tmp_path):
    with scheduler(tmp_path) as lonely:
        cluster = Cluster(lonely, working=1, waiting=1, patience=0.2)
        assert not cluster.ready()
        with pytest.raises(ComputeUnavailableError, match="has no worker"):
            cluster.run(work.process_id, seconds=LONG)
        patient = Cluster(lonely, working=1, waiting=1, patience=LONG)
        orphan = patient.submit(partial(work.tell_and_wait, "/nowhere"), seconds=LONG)
        until(lambda: orphan.state == "running")
    with pytest.raises(ComputeUnavailableError, match="Try again"):
        orphan.result()
    assert not cluster.ready()
    cluster.close()
    patient.close()


def test_a_missing_library_is_told_with_the_extra_that_brings_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ExtraMissingError, match=r"aerial-assay\[cluster\]"):
        Cluster("tcp://127.0.0.1:1", working=1, waiting=1).start()
