"""Where work runs: here, in the calling process; in a pool (`jobs.pool`); in a cluster (`jobs.cluster`)."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextvars import Context
from typing import Protocol, TypeVar

from service.jobs.running import Control, Load, Running, Told

Result = TypeVar("Result")


class Runner(Protocol):
    """Runs work and gives back what it returns, or raises what it raises."""

    def start(self) -> None:
        """Start what it needs now instead of with the first work."""

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:
        """The result of the work; `seconds` is how long it may take, for runners that can end it."""

    def submit(self, work: Told[Result], *, seconds: float) -> Running[Result]:
        """The work, begun or in line; it is handed what it may tell its stages to."""

    def load(self) -> Load:
        """What is being done and what waits."""

    def ready(self) -> bool:
        """Whether work would be taken now."""

    def close(self) -> None:
        """End what was started."""


class Here:
    """Runs all work in the calling process, without a deadline.

    Submitted work runs in a thread beside, one after the other, and can be stopped between its stages.
    """

    def __init__(self) -> None:
        self._thread = ThreadPoolExecutor(1)

    def start(self) -> None:
        """Nothing is needed."""

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:  # noqa: ARG002 (no deadline here)
        """The result of the work, however long it takes; it does not know the caller's language."""
        return Context().run(work)

    def submit(self, work: Told[Result], *, seconds: float) -> Running[Result]:  # noqa: ARG002 (no deadline here)
        """The work, begun or in line."""
        control = Control()
        return Running(control, self._thread.submit(_done_in_thread, work, control))

    def load(self) -> Load:
        """Nothing: work here is the caller's own."""
        return Load(0, 0)

    def ready(self) -> bool:
        """Always."""
        return True

    def close(self) -> None:
        """Leave what waits undone."""
        self._thread.shutdown(cancel_futures=True)


def _done_in_thread(work: Told[Result], control: Control) -> Result:
    control.begun = True
    control.go_on()
    return work(control.tell_or_stop)
