"""What is kept of an error nobody foresaw: its kind and where it arose, but none of the data it met."""

import traceback
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from service.errors import ServiceError


@dataclass(frozen=True)
class Failure:
    """The class name of an exception and its frames, "file:line in function", outermost first.

    Its message is left out: it may quote a reading, a name or a place, which never go into the log.
    """

    kind: str
    frames: tuple[str, ...]


def failure_of(error: BaseException) -> Failure:
    """What may be logged of the exception."""
    frames = traceback.extract_tb(error.__traceback__)
    return Failure(type(error).__name__, tuple(f"{f.filename}:{f.lineno} in {f.name}" for f in frames))


class JobError(ServiceError):
    """A job came to an error of our own; `failure` is for the log."""

    def __init__(self, failure: Failure, *, headers: Mapping[str, str] | None = None):
        super().__init__("The work on this request failed.", headers=headers)
        self.failure = failure


class WorkerLostError(JobError):
    """The process that worked on the request died; another takes its place."""

    status: ClassVar[int] = 503


class Cancelled(ServiceError):
    """The work was stopped because somebody asked for it."""

    status: ClassVar[int] = 409

    def __init__(self) -> None:
        super().__init__("The work was cancelled.")


class ComputeUnavailableError(ServiceError):
    """What computes does not answer; the detail says which part."""

    status: ClassVar[int] = 503

    def __init__(self, detail: str) -> None:
        super().__init__(f"{detail} Try again.", headers={"Retry-After": "10"})


class ExtraMissingError(ServiceError):
    """A library that a setting asks for is not installed; the detail says how to."""

    status: ClassVar[int] = 501


class RendererMissingError(ServiceError):
    """A form of report cannot be made on this machine; the detail says what to install."""

    status: ClassVar[int] = 501
