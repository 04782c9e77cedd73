"""The line: how much work may be under way and waiting at once."""

import threading

from service.errors import TooMany
from service.jobs.running import Load


class Places:
    """`working` places for work under way and `waiting` for what stands in line for one of them."""

    def __init__(self, working: int, *, waiting: int):
        self._working = working
        self._waiting = waiting
        self._lock = threading.Lock()
        self._taken = 0

    def take(self) -> None:
        """Take a place. Raises TooMany where there is none."""
        with self._lock:
            if self._taken >= self._working + self._waiting:
                raise TooMany(
                    f"All workers are busy and {self._waiting} requests wait, the most that may. Try again.",
                    headers={"Retry-After": "10"},
                )
            self._taken += 1

    def give_back(self) -> None:
        """Leave the place that was taken."""
        with self._lock:
            self._taken -= 1

    def free(self) -> bool:
        """Whether there is a place."""
        return self._taken < self._working + self._waiting

    def load(self) -> Load:
        """How many places of both kinds are taken."""
        taken = self._taken
        return Load(min(taken, self._working), max(0, taken - self._working))
