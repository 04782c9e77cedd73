"""A thread that looks at something now and then, and at once when it is told that there is something."""

import logging
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from service.errors import ServiceError
from service.jobs.failures import failure_of

LOG = logging.getLogger("aerial_assay")


class Looker:
    """Calls `look` every so many seconds, one call at a time; what it raises is logged and it goes on.

    place: what the log calls it. in_use: whether there is anything to look at; looking would make it.
    leaving: set once it is to end; `look` may heed it too.
    """

    def __init__(
        self, look: Callable[[], None], *, place: str, pause_seconds: float, in_use: Callable[[], bool]
    ):
        self.leaving = threading.Event()
        self._look = look
        self._place = place
        self._pause_seconds = pause_seconds
        self._in_use = in_use
        self._lock = threading.Lock()
        self._wake = threading.Event()
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Begin to look, now and then from now on; nothing where it has begun, or is to end."""
        with self._lock:
            if self._thread is None and not self.leaving.is_set():
                self._thread = threading.Thread(target=self._look_on, daemon=True)
                self._thread.start()

    def look(self) -> None:
        """Look at once, and now and then from now on."""
        self.start()
        self._wake.set()

    def leave(self) -> None:
        """Look no more."""
        self.leaving.set()
        self._wake.set()

    def join(self, seconds: float | None = None) -> None:
        """Wait for the look that is under way."""
        if self._thread is not None:
            self._thread.join(seconds)

    def log(self, error: BaseException | None) -> None:
        """Log what nobody foresaw; what the work or the database came to is told elsewhere."""
        if error is not None and not isinstance(error, ServiceError):
            failure = failure_of(error)
            LOG.error("a fault in %s", self._place, extra={"kind": failure.kind, "frames": failure.frames})

    def _look_on(self) -> None:
        # looking in another thread makes what it raises a value, whatever it is
        with ThreadPoolExecutor(1) as thread:
            while not self.leaving.is_set():
                if self._in_use():
                    self.log(thread.submit(self._look).exception())
                self._wake.wait(self._pause_seconds)
                self._wake.clear()
