"""A Dask cluster as a runner: work goes to whatever workers its scheduler has.

The only module that knows `distributed`, which comes with the extra `cluster`. Its wire is pickle, so the
cluster must stand in a network where everybody is trusted, with this same program installed on its workers.
Give the workers one thread each: work is ended, past its deadline or cancelled, by restarting its worker.
"""

import logging
import secrets
import threading
from contextlib import suppress
from functools import partial
from typing import Any

from service.jobs.cluster_errand import Client, Errand, on_worker, workers_of
from service.jobs.failures import ComputeUnavailableError, ExtraMissingError
from service.jobs.lined_runner import CANCEL_SECONDS, LinedRunner
from service.jobs.running import Control, Told
from service.jobs.worker import Outcome, result_of

CONNECT_SECONDS = 5.0
LARGE_WORK = {"distributed.admin.large-graph-warning-threshold": "1 GB"}
"""A batch of readings travels with its work; the library would warn of its size."""


class Cluster(LinedRunner):
    """Runs work on the workers of a scheduler: `working` pieces of work are sent there at once.

    At most `waiting` more stand in line here. patience: the seconds that work waits while there is no worker.
    """

    def __init__(self, address: str, *, working: int, waiting: int, patience: float = 30.0):
        self._address = address
        self._patience = patience
        super().__init__(working, waiting=waiting)
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

    def ready(self) -> bool:
        """Whether the scheduler has a worker and the line a place."""
        try:
            return super().ready() and bool(workers_of(self._connected()))
        except ComputeUnavailableError:
            return False

    def close(self) -> None:
        """Leave the cluster; what was sent there is cancelled."""
        super().close()
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
