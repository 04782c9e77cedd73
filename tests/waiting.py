"""Waiting for what another thread or process does, looked at again and again, however long it takes."""

import time
from collections.abc import Callable

PATIENCE = 120.0
LOOK = 0.005


def until(condition: Callable[[], object], *, seconds: float = PATIENCE, what: str = "") -> None:
    """Wait until the condition holds. Raises TimeoutError."""
    deadline = time.monotonic() + seconds
    while not condition():
        if time.monotonic() > deadline:
            raise TimeoutError(what or "waited in vain")
        time.sleep(LOOK)
