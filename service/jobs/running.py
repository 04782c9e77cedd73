"""Work under way as its asker sees it: where it stands, what came of it, and a way to stop it."""

import threading
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError, Future
from concurrent.futures import TimeoutError as NotDone
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Generic, TypeVar

from service.jobs.failures import Cancelled, WorkerLostError

Result = TypeVar("Result")
Progress = Callable[[str], None]
"""Is told the name of each stage as it begins."""
Told = Callable[[Progress], Result]
"""Work that tells its stages."""


@dataclass(frozen=True)
class Load:
    """How many pieces of work are being done, and how many wait for their turn."""

    working: int
    waiting: int


class Control:
    """What the thread that sees to the work and the one that asked for it share: the stage and the stop."""

    def __init__(self) -> None:
        self.stage = ""
        self.begun = False
        self._lock = threading.Lock()
        self._cancelled = False
        self._stop: Callable[[], None] | None = None

    def tell(self, stage: str) -> None:
        """The work has come to a stage."""
        self.stage = stage

    def tell_or_stop(self, stage: str) -> None:
        """The same, for work in this process. Raises Cancelled where it should go no further."""
        self.go_on()
        self.tell(stage)

    def go_on(self) -> None:
        """Raise Cancelled where the work should go no further."""
        if self._cancelled:
            raise Cancelled

    def cancel(self) -> None:
        """Stop the work: at once where it is stoppable, else at its next stage."""
        with self._lock:
            self._cancelled = True
            if self._stop is not None:
                self._stop()

    @contextmanager
    def stoppable(self, stop: Callable[[], None]) -> Iterator[None]:
        """While the work is with a worker that `stop` stops. Raises Cancelled in place of the worker's loss.

        `stop` is never called after this has ended: the worker may then be with other work.
        """
        with self._lock:
            self.go_on()
            self._stop = stop
            self.begun = True
        try:
            yield
        except WorkerLostError:
            if self._cancelled:
                raise Cancelled from None
            raise
        finally:
            with self._lock:
                self._stop = None


class Running(Generic[Result]):
    """Work that was handed to a runner."""

    def __init__(self, control: Control, future: "Future[Result]"):
        self._control = control
        self._future = future

    @property
    def state(self) -> str:
        """One of "waiting", "running", "done", "failed" and "cancelled"."""
        if not self._future.done():
            return "running" if self._control.begun else "waiting"
        if self._future.cancelled():
            return "cancelled"
        error = self._future.exception()
        if isinstance(error, Cancelled):
            return "cancelled"
        return "done" if error is None else "failed"

    @property
    def stage(self) -> str:
        """The stage last told, "" before the first."""
        return self._control.stage

    def wait(self, seconds: float) -> bool:
        """Whether it has come to an end within so many seconds."""
        try:
            self._future.exception(timeout=seconds)
        except NotDone:
            return False
        except CancelledError:
            return True
        return True

    def cancel(self) -> None:
        """Stop it. What has come to an end stays as it is."""
        self._future.cancel()
        self._control.cancel()

    def result(self) -> Result:
        """What the work returned, once it has. Raises what it raised, Cancelled where it was stopped."""
        try:
            return self._future.result()
        except CancelledError:
            raise Cancelled from None


def untold(work: Callable[[], Result], _progress: Progress) -> Result:
    """Work that tells no stages, as work that does."""
    return work()
