"""A runner with a line: what a pool of processes and a cluster share.

Each piece of work takes a place, waits in a thread of its own for its turn, and gives the place back.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any

from service.jobs.places import Places
from service.jobs.runners import Result
from service.jobs.running import Control, Load, Running, Told, untold

CANCEL_SECONDS = 0.2  # how soon work in line sees that it was cancelled


class LinedRunner(ABC):
    """Runs `working` pieces of work at once elsewhere; at most `waiting` more stand in line."""

    def __init__(self, working: int, *, waiting: int):
        self._places = Places(working, waiting=waiting)
        self._threads = ThreadPoolExecutor(working + waiting)

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:
        """The result of the work, which must be picklable.

        Raises TooMany when the line is full, TooLarge past the deadline (counted from the moment a worker
        takes it), WorkerLostError when whoever did it died, ComputeUnavailableError where nobody is there to
        do it, JobError for an error nobody foresaw, and whatever the work refused.
        """
        self._places.take()
        try:
            result: Result = self._result(partial(untold, work), seconds, Control())
            return result
        finally:
            self._places.give_back()

    def submit(self, work: Told[Result], *, seconds: float) -> Running[Result]:
        """The work, begun or in line; its worker is ended where it is cancelled.

        Raises TooMany when the line is full; asked for its result, it raises what `run` does.
        """
        self._places.take()
        control = Control()
        future = self._threads.submit(self._result, work, seconds, control)
        future.add_done_callback(lambda _: self._places.give_back())
        return Running(control, future)

    def load(self) -> Load:
        """What is being done and what waits here."""
        return self._places.load()

    def ready(self) -> bool:
        """Whether work would find a place in the line."""
        return self._places.free()

    def close(self) -> None:
        """Take no more work; what waits is left undone."""
        self._threads.shutdown(wait=False, cancel_futures=True)

    @abstractmethod
    def _result(self, work: Told[Any], seconds: float, control: Control) -> Any:
        """Wait for a turn, and do the work."""
