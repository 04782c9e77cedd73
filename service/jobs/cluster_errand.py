"""One piece of work at a cluster: what its worker tells of it, its deadline, the loss of its worker."""

import queue
import time
from collections.abc import Mapping
from contextlib import suppress
from functools import partial
from typing import Any

from service.errors import TooLarge
from service.jobs.failures import ComputeUnavailableError, Failure, JobError, WorkerLostError, failure_of
from service.jobs.running import Progress, Told
from service.jobs.worker import Outcome, work_at_the_edge
from service.jobs.worker_process import too_long

Client = Any
"""A client of `distributed`, which declares hardly any types."""
Future = Any
"""A future of the same."""
Said = tuple[str, str]
"""What is heard: "worker" with the address of the one that takes the work, "stage" with its name, "stop"
from whoever cancels it, "end" when the scheduler says that it has come to one."""
MOST_TRIES = 2
LOOK_SECONDS = 0.5
RESTART_SECONDS = 10.0


def on_worker(work: Told[Any], topic: str, key: str) -> Outcome:
    """Do the work on a worker of the cluster, telling its stages to the topic."""
    from distributed import get_worker

    worker = get_worker()
    worker.log_event(topic, {"key": key, "said": ("worker", worker.address)})
    return work_at_the_edge(
        partial(work, lambda stage: worker.log_event(topic, {"key": key, "said": ("stage", stage)}))
    )


class Errand:
    """Sees one piece of work to its end; used by one thread, `hear` by any.

    patience: the seconds that it waits while the cluster has no worker at all.
    """

    def __init__(self, client: Client, *, seconds: float, patience: float):
        self._client = client
        self._seconds = seconds
        self._patience = patience
        self._news: queue.SimpleQueue[Said] = queue.SimpleQueue()
        self._tries = 0
        self._worker: str | None = None
        self._deadline: float | None = None
        self._workers_seen_at = time.monotonic()

    def hear(self, kind: str, text: str) -> None:
        """Take in what was said."""
        self._news.put((kind, text))

    def outcome(self, future: Future, tell: Progress) -> Outcome:
        """What comes of the work that the future stands for.

        Raises TooLarge past the deadline, WorkerLostError when it was stopped or two workers died at it,
        ComputeUnavailableError without scheduler or workers, JobError where it could not be run there.
        """
        future.add_done_callback(lambda _: self.hear("end", ""))
        try:
            while True:
                kind, text = self._next()
                if kind == "end":
                    return _came_of(future)
                if kind == "stop":
                    raise WorkerLostError(Failure("Stopped", ()))
                if kind == "stage":
                    tell(text)
                if kind == "worker":
                    self._taken_by(text)
                self._look_after()
        except (TooLarge, WorkerLostError, ComputeUnavailableError):
            self._end(future)
            raise

    def _next(self) -> Said:
        try:
            return self._news.get(timeout=LOOK_SECONDS)
        except queue.Empty:
            return ("nothing", "")

    def _taken_by(self, worker: str) -> None:
        """A worker has taken the work; the scheduler gives it to another where one is lost."""
        self._tries += 1
        if self._tries > MOST_TRIES:
            raise WorkerLostError(Failure("WorkerLost", ()), headers={"Retry-After": "5"})
        self._worker = worker
        self._deadline = time.monotonic() + self._seconds

    def _look_after(self) -> None:
        now = time.monotonic()
        if self._deadline is not None and now > self._deadline:
            raise TooLarge(too_long(self._seconds))
        workers = workers_of(self._client)
        if self._worker not in workers:
            self._deadline = None  # until another takes the work
        if workers:
            self._workers_seen_at = now
        elif now - self._workers_seen_at > self._patience:
            raise ComputeUnavailableError("The cluster has no worker.")

    def _end(self, future: Future) -> None:
        """Cancel the work and restart its worker, since a thread cannot be ended.

        A worker that nobody restarts (it has no nanny) does the work to its end, for nobody.
        """
        with suppress(OSError, ValueError, RuntimeError, KeyError):  # the library's words for a worker gone
            future.cancel()
            if self._worker is not None:
                self._client.restart_workers([self._worker], timeout=RESTART_SECONDS, raise_for_error=False)


def workers_of(client: Client) -> Mapping[str, int]:
    """The workers' addresses, with their threads. Raises ComputeUnavailableError without a scheduler."""
    if client.status != "running":
        raise ComputeUnavailableError("The scheduler of the cluster does not answer.")
    try:
        workers: Mapping[str, int] = client.nthreads()
    except OSError as error:
        raise ComputeUnavailableError("The scheduler of the cluster does not answer.") from error
    return workers


def _came_of(future: Future) -> Outcome:
    from distributed import KilledWorker

    if future.cancelled():
        raise ComputeUnavailableError("The scheduler of the cluster was lost.")
    error = future.exception()
    if isinstance(error, KilledWorker):
        raise WorkerLostError(Failure("WorkerLost", ()), headers={"Retry-After": "5"})
    if error is not None:
        raise JobError(failure_of(error))
    outcome: Outcome = future.result()
    return outcome
