"""The pool: results, refusals, failures, deaths, deadlines, the line."""

import gc
import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pytest

from service.errors import BadInput, TooLarge, TooMany
from service.jobs.failures import JobError, WorkerLostError
from service.jobs.pool import Pool
from service.jobs.running import Load
from tests.faults.servers import lives
from tests.jobs import work
from tests.waiting import until

LONG = 60.0


def run(pool, function, *arguments, seconds: float = LONG):
    return pool.run(partial(function, *arguments), seconds=seconds)


def test_work_is_done_in_another_process(pool):
    assert run(pool, work.add, 2, 3) == 5
    assert run(pool, work.process_id) != os.getpid()


def test_a_worker_does_not_look_through_its_libraries_for_garbage(pool):
    assert run(pool, gc.get_freeze_count) > run(pool, work.watched_objects)


def test_a_refusal_comes_back_whole(pool):
    with pytest.raises(BadInput) as caught:
        run(pool, work.refuse)
    assert caught.value.count == 7
    assert caught.value.faults[0].given == "feet"
    assert caught.value.detail.startswith("7 faults")


def test_a_failure_comes_back_without_the_data_it_met(pool):
    with pytest.raises(JobError) as caught:
        run(pool, work.fail)
    failure = caught.value.failure
    assert failure.kind == "RuntimeError"
    assert "work.py" in failure.frames[-1]
    assert "41.5" not in repr(failure) + caught.value.detail


def test_a_dead_worker_loses_its_own_request_only(pool, tmp_path):
    go = tmp_path / "go"
    with ThreadPoolExecutor(1) as threads:
        other = threads.submit(run, pool, work.wait_for, str(go))
        until(lambda: pool.load().working == 1)
        with pytest.raises(WorkerLostError) as caught:
            run(pool, work.die)
        assert (caught.value.status, caught.value.headers) == (503, {"Retry-After": "5"})
        go.touch()
        assert other.result() == str(go)
    assert [run(pool, work.add, n, 1) for n in range(4)] == [1, 2, 3, 4]


def test_work_past_its_deadline_is_ended_and_the_next_is_done(pool):
    start = time.monotonic()
    with pytest.raises(TooLarge, match=r"longer than the 0\.3 seconds"):
        run(pool, work.sleep, LONG, seconds=0.3)
    assert [run(pool, work.add, n, 1) for n in range(4)] == [1, 2, 3, 4]
    assert time.monotonic() - start < LONG / 2


def test_work_that_wants_too_much_memory_is_refused(pool):
    with pytest.raises(TooLarge, match="more memory than the 2 GiB"):
        run(pool, work.take_memory, 3 * 2**30)
    assert run(pool, work.take_memory, 2**20) == 2**20


def test_an_interrupt_is_left_to_the_parent(pool):
    assert run(pool, work.interrupt) == "still here"


def test_a_full_line_is_told_and_empties_again(pool, tmp_path):
    go = tmp_path / "go"
    with ThreadPoolExecutor(3) as threads:
        waiting = [threads.submit(run, pool, work.wait_for, str(go)) for _ in range(3)]
        until(lambda: pool.load() == Load(working=2, waiting=1))
        assert not pool.ready()
        with pytest.raises(TooMany) as caught:
            run(pool, work.add, 1, 1)
        assert caught.value.headers == {"Retry-After": "10"}
        go.touch()
        assert [future.result() for future in waiting] == [str(go)] * 3
    assert pool.ready()
    assert run(pool, work.add, 1, 1) == 2


PARENT = """
import os, sys
from functools import partial
from service.jobs.pool import Pool
from service.jobs.running import Load
from tests.faults.servers import lives
from tests.jobs import work
from tests.waiting import until
if __name__ == "__main__":
    pool = Pool(1, waiting=1)
    print(pool.run(partial(work.process_id), seconds=60), flush=True)
    os._exit(9)
"""


def test_workers_end_when_the_pool_closes():
    pool = Pool(1, waiting=1)
    worker = run(pool, work.process_id)
    pool.close()
    until(lambda: not lives(worker))


def test_workers_end_when_their_parent_dies(tmp_path):
    script, said = tmp_path / "parent.py", tmp_path / "said"
    script.write_text(PARENT)
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    with said.open("w") as file:  # a pipe would be held open by a worker that lives on
        done = subprocess.run([sys.executable, script], env=environment, stdout=file, check=False)
    assert done.returncode == 9
    until(lambda: not lives(int(said.read_text())))
