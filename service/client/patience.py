"""How long a command goes on asking where nobody answers, or where the service asks to come again."""

import time
from typing import Any, Protocol

LONGEST_PAUSE = 30.0
FIRST_PAUSE, LONGEST_PAUSE_OF_A_WAIT = 0.25, 5.0
LEAST_SECONDS = 1.0  # for the last try of a wait


class Patience(Protocol):
    """Decides whether the same is sent again."""

    def bounds(self) -> dict[str, Any]:
        """Further arguments of the request that is sent next."""

    def again(self, asked: float | None = None) -> bool:
        """Pause, `asked` seconds where the service wants so many, and say whether another try is made."""

    def told(self) -> str:
        """How long it was tried, as the end of a clause; empty where it was tried as often as always."""


class Tries:
    """So many tries, with growing pauses."""

    def __init__(self, most: int):
        self._most = most
        self._tried = 0

    def bounds(self) -> dict[str, Any]:
        """Nothing: each try has the time that an answer may take."""
        return {}

    def again(self, asked: float | None = None) -> bool:
        """As often as was said."""
        self._tried += 1
        if self._tried >= self._most:
            return False
        time.sleep(min(2**self._tried, LONGEST_PAUSE) if asked is None else asked)
        return True

    def told(self) -> str:
        """Nothing."""
        return ""


class Wait:
    """Until so many seconds are over, however many tries that makes; each try has what is left of them."""

    def __init__(self, seconds: float):
        self._seconds = seconds
        self._end = time.monotonic() + seconds
        self._pause = FIRST_PAUSE

    def bounds(self) -> dict[str, Any]:
        """What is left is the time for an answer."""
        return {"timeout": max(self._left(), LEAST_SECONDS)}

    def again(self, asked: float | None = None) -> bool:
        """While there is time left; not where the service asks for a longer pause than that."""
        left = self._left()
        if left <= 0.0 or (asked is not None and asked > left):
            return False
        time.sleep(min(left, self._pause) if asked is None else asked)
        self._pause = min(2.0 * self._pause, LONGEST_PAUSE_OF_A_WAIT)
        return True

    def told(self) -> str:
        """The seconds."""
        return f" within {self._seconds:g} s"

    def _left(self) -> float:
        return self._end - time.monotonic()
