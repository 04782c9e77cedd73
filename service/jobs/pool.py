"""A pool of worker processes with a deadline; one that dies or runs over takes nobody else down.

A process pool of the standard library breaks as a whole when one of its processes dies. Here each worker
stands for itself, so that only the work it was at is lost, and a new process takes its place.
"""

import queue
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any

from service.jobs.places import Places
from service.jobs.runners import Result
from service.jobs.running import Control, Load, Running, Told, untold
from service.jobs.worker import Outcome, result_of
from service.jobs.worker_process import WorkerProcess

CANCEL_SECONDS = 0.2  # how soon work in line sees that it was cancelled


class Pool:
    """Runs work in `workers` processes; at most `waiting` more pieces of work stand in line for one."""

    def __init__(self, workers: int, *, waiting: int):
        self._workers = [WorkerProcess() for _ in range(workers)]
        self._places = Places(workers, waiting=waiting)
        self._threads = ThreadPoolExecutor(workers + waiting)
        self._free: queue.LifoQueue[WorkerProcess] = queue.LifoQueue()
        for worker in self._workers:
            self._free.put(worker)

    def start(self) -> None:
        """Start all workers now instead of with their first work."""
        with ThreadPoolExecutor(len(self._workers)) as threads:
            list(threads.map(lambda worker: worker.start(), self._workers))

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:
        """The result of the work, which must be picklable, done by the next free worker.

        Raises TooMany when the line is full, TooLarge past the deadline (counted from the moment a worker
        takes it), WorkerLostError when its process died, JobError for an error nobody foresaw, and whatever
        the work refused.
        """
        self._places.take()
        try:
            result: Result = self._result(partial(untold, work), seconds, Control())
            return result
        finally:
            self._places.give_back()

    def submit(self, work: Told[Result], *, seconds: float) -> Running[Result]:
        """The work, begun or in line; the worker is killed where it is cancelled.

        Raises TooMany when the line is full; asked for its result, it raises what `run` does.
        """
        self._places.take()
        control = Control()
        future = self._threads.submit(self._result, work, seconds, control)
        future.add_done_callback(lambda _: self._places.give_back())
        return Running(control, future)

    def _result(self, work: Told[Any], seconds: float, control: Control) -> Any:
        worker = self._next_free(control)
        try:
            return result_of(_outcome(worker, work, seconds, control=control))
        finally:
            self._free.put(worker)

    def _next_free(self, control: Control) -> WorkerProcess:
        while True:
            control.go_on()
            try:
                return self._free.get(timeout=CANCEL_SECONDS)
            except queue.Empty:
                continue

    def load(self) -> Load:
        """What is being done and what waits."""
        return self._places.load()

    def ready(self) -> bool:
        """Whether a request would find a place in the line."""
        return self._places.free()

    def close(self) -> None:
        """End all workers; work under way is lost."""
        self._threads.shutdown(wait=False, cancel_futures=True)
        for worker in self._workers:
            worker.end()


def _outcome(worker: WorkerProcess, work: Told[Any], seconds: float, *, control: Control) -> Outcome:
    worker.start()  # what is not there yet cannot be stopped
    with control.stoppable(worker.kill):
        return worker.outcome(work, seconds=seconds, tell=control.tell)
