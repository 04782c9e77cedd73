"""How often something may happen in a while, counted for each key in the memory of this process.

Nothing is shared between processes and nothing outlives them: with n processes behind one address, a key
may do up to n times as much.
"""

import threading
import time
from collections.abc import Callable

MOST_KEYS = 10_000


class Allowance:
    """At most `most` events a key within `seconds`, counted from the key's first one.

    At most 10 000 keys are remembered; beyond that the one counted for longest is forgotten first, so that
    no crowd of keys can fill the memory.
    """

    def __init__(self, most: int, *, seconds: float, clock: Callable[[], float] = time.monotonic):
        self.most = most
        self._seconds = seconds
        self._clock = clock
        self._lock = threading.Lock()
        self._counts: dict[str, tuple[float, int]] = {}

    def used_up(self, key: str) -> float:
        """The seconds until the key may go on; 0 where it may now. Nothing is counted."""
        with self._lock:
            began, count = self._present(key)
            return began + self._seconds - self._clock() if count >= self.most else 0.0

    def take(self, key: str) -> float:
        """Count an event of the key; the seconds until it may go on if this is one too many, else 0."""
        with self._lock:
            began, count = self._present(key)
            if count >= self.most:
                return began + self._seconds - self._clock()
            if count == 0 and len(self._counts) >= MOST_KEYS:
                del self._counts[next(iter(self._counts))]
            self._counts[key] = (began, count + 1)
            return 0.0

    def _present(self, key: str) -> tuple[float, int]:
        """When counting of the key began and how far it is; what is out of date is forgotten."""
        now = self._clock()
        began, count = self._counts.get(key, (now, 0))
        if now - began < self._seconds:
            return began, count
        del self._counts[key]  # counted anew, it stands last again
        return now, 0
