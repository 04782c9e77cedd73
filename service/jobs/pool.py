"""A pool of worker processes with a deadline; one that dies or runs over takes nobody else down.

A process pool of the standard library breaks as a whole when one of its processes dies. Here each worker
stands for itself, so that only the work it was at is lost, and a new process takes its place.
"""

import queue
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from service.jobs.lined_runner import CANCEL_SECONDS, LinedRunner
from service.jobs.running import Control, Told
from service.jobs.worker import Outcome, result_of
from service.jobs.worker_process import WorkerProcess


class Pool(LinedRunner):
    """Runs work in `workers` processes; at most `waiting` more pieces of work stand in line for one."""

    def __init__(self, workers: int, *, waiting: int):
        self._workers = [WorkerProcess() for _ in range(workers)]
        super().__init__(workers, waiting=waiting)
        self._free: queue.LifoQueue[WorkerProcess] = queue.LifoQueue()
        for worker in self._workers:
            self._free.put(worker)

    def start(self) -> None:
        """Start all workers now instead of with their first work."""
        with ThreadPoolExecutor(len(self._workers)) as threads:
            list(threads.map(lambda worker: worker.start(), self._workers))

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

    def close(self) -> None:
        """End all workers; work under way is lost."""
        super().close()
        for worker in self._workers:
            worker.end()


def _outcome(worker: WorkerProcess, work: Told[Any], seconds: float, *, control: Control) -> Outcome:
    worker.start()  # what is not there yet cannot be stopped
    with control.stoppable(worker.kill):
        return worker.outcome(work, seconds=seconds, tell=control.tell)
