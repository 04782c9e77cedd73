"""Serving until asked to stop; then requests under way are finished, within a time, and no more taken."""

import signal
import threading
import time
from types import FrameType
from typing import Any

from waitress import wasyncore

TURN_SECONDS = 1.0
DRAINING_TURN_SECONDS = 0.05
LEAVING_SECONDS = 1.0


class StopSignals:
    """Notes that SIGTERM or SIGINT came; the second one ends the process at once."""

    def __init__(self) -> None:
        self.asked = threading.Event()
        self._server: Any = None

    def watch(self) -> None:
        """Take both signals from now on."""
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._note)

    def wake(self, server: Any) -> None:
        """Wake this server from its waiting when a signal comes."""
        self._server = server

    def _note(self, number: int, _frame: FrameType | None) -> None:
        if self.asked.is_set():
            raise SystemExit(128 + number)
        self.asked.set()
        if self._server is not None:
            self._server.pull_trigger()


def serve_until(server: Any, asked: threading.Event, *, seconds: float) -> None:
    """Run a waitress server until `asked` is set, then at most `seconds` more for requests under way."""
    while not asked.is_set():
        _turn(server, TURN_SECONDS)
    wasyncore.dispatcher.close(server)  # only its listening socket: what is connected goes on
    deadline = time.monotonic() + seconds
    while _still_busy(server) and time.monotonic() < deadline:
        _turn(server, DRAINING_TURN_SECONDS)
    server.task_dispatcher.shutdown(timeout=LEAVING_SECONDS)
    wasyncore.close_all(server._map)


def _turn(server: Any, seconds: float) -> None:
    wasyncore.loop(timeout=seconds, use_poll=True, map=server._map, count=1)


def _still_busy(server: Any) -> bool:
    """Whether any connection has a request under way or an answer to send; idle ones are closed."""
    busy = False
    for channel in list(server.active_channels.values()):
        if channel.requests or channel.request is not None or channel.total_outbufs_len:
            busy = True
        else:
            channel.handle_close()
    return busy
