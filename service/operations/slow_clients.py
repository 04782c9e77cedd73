"""Connections on which next to nothing moves are closed, so that a crowd of them cannot take all there are.

waitress marks a connection to be closed after a while without any byte, unless its answer is being made, and
closes it when it can be written to. One byte now and then, or an answer that is asked for and never read,
would hold a connection, what it is to be sent, and a thread, for ever.
"""

from typing import Any

from waitress.channel import HTTPChannel

SLOWEST = 500
"""Bytes a second that a client has to send of a request, or to read of an answer; common practice."""


class CountedChannel(HTTPChannel):  # type: ignore[misc] # the library has no types
    """A connection that counts what moves on it.

    `noted` is the count of the last look, None where nothing was waited for then.
    """

    moved = 0
    noted: int | None = None

    def recv(self, buffer_size: int) -> bytes:
        """What came."""
        data: bytes = super().recv(buffer_size)
        self.moved += len(data)
        return data

    def send(self, data: bytes, do_close: bool = True) -> int:
        """Send some of it; how much."""
        sent: int = super().send(data, do_close=do_close)
        self.moved += sent
        return sent

    def waits_for_client(self) -> bool:
        """Whether the rest of a request is to come, or an answer to be taken."""
        return (self.request is not None and not self.requests) or self.total_outbufs_len > 0

    def close_if_slow(self, seconds: float) -> None:
        """Close it where it waited for the client at the last look, so many seconds ago, and little moved.

        At once, without the marks of the library: they are looked at when the client reads.
        """
        waits = self.waits_for_client()
        if waits and self.noted is not None and self.moved - self.noted < SLOWEST * seconds:
            self.handle_close()
        self.noted = self.moved if waits else None


def close_slow_ones(server: Any) -> None:
    """Let a waitress server with such channels close slow ones too each time that it looks for idle ones."""
    close_idle_ones = server.maintenance

    def maintenance(now: float) -> None:
        close_idle_ones(now)
        for channel in list(server.active_channels.values()):
            channel.close_if_slow(server.adj.cleanup_interval)

    server.maintenance = maintenance
