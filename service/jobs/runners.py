"""Where work runs: here, in the calling process, or in a pool (`service.jobs.pool`)."""

from collections.abc import Callable
from typing import Protocol, TypeVar

Result = TypeVar("Result")


class Runner(Protocol):
    """Runs work and gives back what it returns, or raises what it raises."""

    def start(self) -> None:
        """Start what it needs now instead of with the first work."""

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:
        """The result of the work; `seconds` is how long it may take, for runners that can end it."""

    def ready(self) -> bool:
        """Whether work would be taken now."""

    def close(self) -> None:
        """End what was started."""


class Here:
    """Runs all work in the calling process, without a deadline."""

    def start(self) -> None:
        """Nothing is needed."""

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:  # noqa: ARG002 (no deadline here)
        """The result of the work, however long it takes."""
        return work()

    def ready(self) -> bool:
        """Always."""
        return True

    def close(self) -> None:
        """Nothing was started."""
