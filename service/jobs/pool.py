"""A pool of worker processes with a deadline; one that dies or runs over takes nobody else down.

A process pool of the standard library breaks as a whole when one of its processes dies. Here each worker is
a pool of one, so that only the request it worked on is lost, and a new process takes its place.
"""

import multiprocessing
import os
import queue
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from service.errors import TooLarge, TooMany
from service.jobs.failures import Failure, WorkerLostError
from service.jobs.runners import Result
from service.jobs.worker import Done, Failed, Turned, prepare_worker, work_at_the_edge

Outcome = Done | Turned | Failed


class Pool:
    """Runs work in `workers` processes; at most `waiting` more requests stand in line for one."""

    def __init__(self, workers: int, *, waiting: int):
        self._workers = [_Worker() for _ in range(workers)]
        self._waiting = waiting
        self._places = threading.BoundedSemaphore(workers + waiting)
        self._free: queue.LifoQueue[_Worker] = queue.LifoQueue()
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
        if not self._places.acquire(blocking=False):
            raise TooMany(
                f"All workers are busy and {self._waiting} requests wait, the most that may. Try again.",
                headers={"Retry-After": "10"},
            )
        try:
            outcome = self._by_next_free(work, seconds)
        finally:
            self._places.release()
        if not isinstance(outcome, Done):
            outcome.raise_again()
        result: Result = outcome.result
        return result

    def _by_next_free(self, work: Callable[[], Any], seconds: float) -> Outcome:
        worker = self._free.get()
        try:
            return worker.outcome(work, seconds)
        finally:
            self._free.put(worker)

    def ready(self) -> bool:
        """Whether a request would find a place in the line."""
        if self._places.acquire(blocking=False):
            self._places.release()
            return True
        return False

    def close(self) -> None:
        """End all workers; work under way is lost."""
        for worker in self._workers:
            worker.end()


class _Worker:
    """One process at a time, started when it is needed; used by one thread at a time."""

    def __init__(self) -> None:
        self._executor: ProcessPoolExecutor | None = None
        self._process_id = 0

    def start(self) -> ProcessPoolExecutor:
        """The running executor of this worker."""
        if self._executor is None:
            context = multiprocessing.get_context("spawn")  # a fork of a threaded server may hang
            executor = ProcessPoolExecutor(1, mp_context=context)
            self._process_id = executor.submit(prepare_worker).result()
            self._executor = executor
        return self._executor

    def outcome(self, work: Callable[[], Any], seconds: float) -> Outcome:
        try:
            future = self.start().submit(work_at_the_edge, work)
            return self._in_time(future, seconds)
        except BrokenProcessPool as error:
            self.end()
            raise WorkerLostError(Failure("WorkerLost", ()), headers={"Retry-After": "5"}) from error

    def _in_time(self, future: "Future[Outcome]", seconds: float) -> Outcome:
        try:
            return future.result(timeout=seconds)
        except TimeoutError:
            self.end()
            raise TooLarge(
                f"This takes longer than the {seconds:g} seconds that one request may. "
                "Send fewer readings, rounds or elements at once."
            ) from None

    def end(self) -> None:
        """End the process, whatever it is doing; the next work starts another."""
        executor, self._executor = self._executor, None
        if executor is not None:
            _kill(self._process_id)
            executor.shutdown(wait=True, cancel_futures=True)


def _kill(process_id: int) -> None:
    try:
        os.kill(process_id, signal.SIGKILL)
    except ProcessLookupError:
        return  # it has died already
