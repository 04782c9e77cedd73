"""What runs inside a worker process: its preparation, and the edge where its errors are caught.

An exception does not survive the way between processes unharmed (its arguments are not its state), so a
worker sends plain values back and the calling process raises them again.
"""

import gc
import multiprocessing
import os
import pickle
import signal
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection
from typing import Any, NoReturn

from service.errors import ServiceError, TooLarge
from service.jobs.failures import Failure, JobError, failure_of

MEMORY_BYTES = 2 * 2**30
_OUT_OF_MEMORY = (
    f"This takes more memory than the {MEMORY_BYTES // 2**30} GiB that one request may use. "
    "Send fewer readings, rounds or elements at once."
)


@dataclass(frozen=True)
class Stage:
    """The work has come to a stage."""

    name: str


@dataclass(frozen=True)
class Done:
    """The work came to a result."""

    result: Any


@dataclass(frozen=True)
class Turned:
    """The work raised an error of our tree: its class, its arguments and its state."""

    kind: type[ServiceError]
    arguments: tuple[object, ...]
    state: Mapping[str, object]

    def raise_again(self) -> NoReturn:
        """Raise the error as the worker raised it."""
        error = self.kind.__new__(self.kind)
        error.args = self.arguments
        error.__dict__.update(self.state)
        raise error


@dataclass(frozen=True)
class Failed:
    """The work met an error nobody foresaw."""

    failure: Failure

    def raise_again(self) -> NoReturn:
        """Raise it as JobError, which carries what the log may say."""
        raise JobError(self.failure)


Outcome = Done | Turned | Failed


def result_of(outcome: Outcome) -> Any:
    """The result of the work. Raises what it raised."""
    if isinstance(outcome, Done):
        return outcome.result
    outcome.raise_again()


def serve_work(line: Connection) -> None:
    """Do what comes down the line, one after the other, until nobody is at its other end."""
    prepare_worker()
    line.send(os.getpid())
    while True:
        try:
            packed = line.recv_bytes()
        except EOFError:
            return
        outcome = work_at_the_edge(partial(_unpacked_and_done, packed, line))
        line.send_bytes(outcome.result if isinstance(outcome, Done) else pickle.dumps(outcome))


def _unpacked_and_done(packed: bytes, line: Connection) -> bytes:
    """The outcome of the work, packed here so that a result that cannot travel is a failure of the work."""
    work = pickle.loads(packed)  # noqa: S301 (it comes from the process that started this one)
    return pickle.dumps(Done(work(lambda stage: line.send(Stage(stage)))))


def prepare_worker() -> None:
    """Make this process a worker.

    Memory is bounded, one core is used, Ctrl-C is left to the parent, a worker whose parent died ends
    itself, and the libraries are loaded before the first work comes. What they hold is no garbage: a
    collection that looked through it would hold up a verdict by half its time (gc.freeze).
    """
    import resource  # here, since only workers need it and not every system has it

    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # read when numpy is first imported, below
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    from service.jobs import verdicts

    verdicts.load_libraries()
    gc.freeze()


def work_at_the_edge(work: Callable[[], Any]) -> Outcome:
    """Do the work and put whatever comes of it into a value that can travel."""
    try:
        return Done(work())
    except ServiceError as error:
        return _turned(error)
    except MemoryError:
        return _turned(TooLarge(_OUT_OF_MEMORY))
    except Exception as error:  # noqa: BLE001 (the job edge: the failure travels as a value)
        return Failed(failure_of(error))


def _turned(error: ServiceError) -> Turned:
    return Turned(type(error), error.args, dict(vars(error)))


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
