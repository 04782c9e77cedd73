"""A Dask cluster as a runner: work goes to whatever workers its scheduler has.

The only module that knows `distributed`, which comes with the extra `cluster`. Its wire is pickle, so the
cluster must stand in a network where everybody is trusted, with this same program installed on its workers.
Give the workers one thread each: work is ended, past its deadline or cancelled, by restarting its worker.
"""

import logging
import secrets
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import partial
from typing import Any

from service.jobs.cluster_errand import Client, Errand, on_worker, workers_of
from service.jobs.failures import ComputeUnavailableError, ExtraMissingError
from service.jobs.places import Places
from service.jobs.runners import Result
from service.jobs.running import Control, Load, Running, Told, untold
from service.jobs.worker import Outcome, result_of

CONNECT_SECONDS = 5.0
CANCEL_SECONDS = 0.2  # how soon work in line sees that it was cancelled
LARGE_WORK = {"distributed.admin.large-graph-warning-threshold": "1 GB"}
"""A batch of readings travels with its work; the library would warn of its size."""


class Cluster:
    """Runs work on the workers of a scheduler: `working` pieces of work are sent there at once.

    At most `waiting` more stand in line here. patience: the seconds that work waits while there is no worker.
    """

    def __init__(self, address: str, *, working: int, waiting: int, patience: float = 30.0):
        self._address = address
        self._patience = patience
        self._places = Places(working, waiting=waiting)
        self._threads = ThreadPoolExecutor(working + waiting)
        self._turns = threading.BoundedSemaphore(working)
        self._connecting = threading.Lock()
        self._client: Client | None = None
        self._errands: dict[str, Errand] = {}
        self._topic = f"aerial-assay-{secrets.token_hex(8)}"

    def start(self) -> None:
        """Connect to the scheduler; one that does not answer yet is asked again with the first work.

        Raises ExtraMissingError without the library.
        """
        with suppress(ComputeUnavailableError):
            self._connected()

    def run(self, work: Callable[[], Result], *, seconds: float) -> Result:
        """The result of the work, which must be picklable.

        Raises TooMany when the line is full, ComputeUnavailableError without scheduler or workers, TooLarge
        past the deadline (counted from the moment a worker takes it), WorkerLostError when two workers died
        at it, JobError for an error nobody foresaw, and whatever the work refused.
        """
        self._places.take()
        try:
            result: Result = self._result(partial(untold, work), seconds, Control())
            return result
        finally:
            self._places.give_back()

    def submit(self, work: Told[Result], *, seconds: float) -> Running[Result]:
        """The work, begun or in line; asked for its result, it raises what `run` does."""
        self._places.take()
        control = Control()
        future = self._threads.submit(self._result, work, seconds, control)
        future.add_done_callback(lambda _: self._places.give_back())
        return Running(control, future)

    def load(self) -> Load:
        """What was sent and what waits here."""
        return self._places.load()

    def ready(self) -> bool:
        """Whether the scheduler has a worker and the line a place."""
        try:
            return self._places.free() and bool(workers_of(self._connected()))
        except ComputeUnavailableError:
            return False

    def close(self) -> None:
        """Leave the cluster; what was sent there is cancelled."""
        self._threads.shutdown(wait=False, cancel_futures=True)
        with self._connecting:
            client, self._client = self._client, None
        if client is not None:
            client.close(timeout=CONNECT_SECONDS)

    def _result(self, work: Told[Any], seconds: float, control: Control) -> Any:
        while not self._turns.acquire(timeout=CANCEL_SECONDS):
            control.go_on()
        try:
            return result_of(self._outcome(work, seconds, control))
        finally:
            self._turns.release()

    def _outcome(self, work: Told[Any], seconds: float, control: Control) -> Outcome:
        client = self._connected()
        errand = Errand(client, seconds=seconds, patience=self._patience)
        key = f"aerial-assay-{secrets.token_hex(8)}"
        self._errands[key] = errand
        try:
            with control.stoppable(partial(errand.hear, "stop", "")):
                future = client.submit(on_worker, work, self._topic, key, key=key, pure=False)
                return errand.outcome(future, control.tell)
        finally:
            del self._errands[key]

    def _connected(self) -> Client:
        """A client of the scheduler: the one there is, or a new one after the connection was lost."""
        with self._connecting:
            if self._client is None or self._client.status != "running":
                self._client = _client_of(self._address)
                self._client.subscribe_topic(self._topic, self._pass_on)
            return self._client

    def _pass_on(self, event: tuple[float, Any]) -> None:
        """Let the errand hear what its worker said of it."""
        said = event[1]
        errand = self._errands.get(said["key"])
        if errand is not None:
            errand.hear(*said["said"])


def _client_of(address: str) -> Client:
    try:
        import distributed
        from dask.config import set as set_config
    except ImportError as error:
        raise ExtraMissingError(
            "A Dask cluster needs the extra named cluster: pip install 'aerial-assay[cluster]'."
        ) from error
    logging.getLogger("distributed").setLevel(logging.ERROR)  # what matters is told as a problem
    set_config(LARGE_WORK)
    try:
        connect: Any = distributed.Client  # without types
        return connect(address, timeout=CONNECT_SECONDS, set_as_default=False)
    except (OSError, ValueError) as error:
        raise ComputeUnavailableError(f"No scheduler answers at {address}.") from error
