"""One child process and the line to it: work goes out on it, its stages and its outcome come back."""

import multiprocessing
import time
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import Any

from service.errors import TooLarge
from service.jobs.failures import Failure, WorkerLostError
from service.jobs.running import Progress, Told
from service.jobs.worker import Outcome, Stage, serve_work


class WorkerProcess:
    """One process at a time, started when it is needed; used by one thread at a time."""

    def __init__(self) -> None:
        self._process: SpawnProcess | None = None
        self._line: Connection | None = None

    def start(self) -> Connection:
        """Start the process, if it does not run, and wait until it is ready for work."""
        if self._line is None:
            context = multiprocessing.get_context("spawn")  # a fork of a threaded server may hang
            line, far_end = context.Pipe()
            self._process = context.Process(target=serve_work, args=(far_end,), daemon=True)
            self._process.start()
            far_end.close()  # while it is open here too, the end of the process does not end the line
            with self._unless_lost():
                line.recv()
            self._line = line
        return self._line

    def outcome(self, work: Told[Any], *, seconds: float, tell: Progress) -> Outcome:
        """What comes of the work, which must be picklable.

        Raises WorkerLostError where the process died and TooLarge past the deadline. After either, the next
        work starts another process.
        """
        line = self.start()
        deadline = time.monotonic() + seconds
        with self._unless_lost():
            line.send(work)
            while line.poll(max(0.0, deadline - time.monotonic())):
                said: Outcome | Stage = line.recv()
                if not isinstance(said, Stage):
                    return said
                tell(said.name)
        self.end()
        raise TooLarge(too_long(seconds))

    def kill(self) -> None:
        """Kill the process, whatever it is doing; any thread may."""
        process = self._process
        if process is not None:
            process.kill()

    def end(self) -> None:
        """Kill the process and wait for its end."""
        process, self._process, self._line = self._process, None, None
        if process is not None:
            process.kill()
            process.join()

    @contextmanager
    def _unless_lost(self) -> Iterator[None]:
        try:
            yield
        except (EOFError, ConnectionError) as error:
            self.end()
            raise WorkerLostError(Failure("WorkerLost", ()), headers={"Retry-After": "5"}) from error


def too_long(seconds: float) -> str:
    """What is said of work past its deadline: the limit and the remedy."""
    return (
        f"This takes longer than the {seconds:g} seconds that one request may. "
        "Send fewer readings, rounds or elements at once."
    )
