"""One POST to an address of somebody else's choice: checked, in a bounded time, and followed nowhere.

The name is looked up once, every address it leads to is checked, and the connection goes to one of those
very addresses, while TLS goes by the name. No proxy, no redirect, no cookie; of the answer no more is read
than lets the other side end in peace.
"""

import socket
import ssl
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import httpcore

from service.jobs.public_addresses import is_public
from service.jobs.targets import Target

ATTEMPT_SECONDS = 10.0
ANSWER_BYTES = 16 * 2**10
WHY_CHARACTERS = 200


class NotTakenError(Exception):
    """No answer came; the text says why."""


@dataclass(frozen=True)
class Answer:
    """What was answered: the status, and the Retry-After header where there is one."""

    status: int
    retry_after: str | None


@dataclass(frozen=True)
class Poster:
    """Posts; used by any number of threads.

    private_allowed: whether the address may be one that is not of the public internet. seconds: of one POST
    from the connection to the answer. trusted: whose certificates are believed; None for the usual ones.
    """

    private_allowed: bool
    seconds: float = ATTEMPT_SECONDS
    trusted: ssl.SSLContext | None = None

    def post(self, target: Target, headers: Mapping[str, str], body: bytes) -> Answer:
        """The answer to a body. Raises NotTakenError where none came."""
        url = httpcore.URL(scheme=target.scheme, host=target.host, port=target.port, target=target.requested)
        network = _CheckedNetwork(self.private_allowed, time.monotonic() + self.seconds)
        pool = httpcore.ConnectionPool(ssl_context=self._trusted, network_backend=network)
        try:
            with pool, pool.stream("POST", url, headers=_lines(headers), content=body) as response:
                _read_some(response)
                named = {name.lower(): value for name, value in response.headers}
                return Answer(response.status, named.get(b"retry-after", b"").decode("latin-1") or None)
        except httpcore.TimeoutException as error:
            raise NotTakenError(f"no answer within {self.seconds:g} seconds") from error
        except (httpcore.NetworkError, httpcore.ProtocolError) as error:
            raise NotTakenError((str(error) or type(error).__name__)[:WHY_CHARACTERS]) from error

    @cached_property
    def _trusted(self) -> ssl.SSLContext:
        return self.trusted or httpcore.default_ssl_context()


def _lines(headers: Mapping[str, str]) -> list[tuple[bytes, bytes]]:
    return [(name.encode("ascii"), value.encode("ascii")) for name, value in headers.items()]


def _read_some(response: httpcore.Response) -> None:
    """Read a short body to its end; the status stands whatever becomes of it."""
    count = 0
    with suppress(httpcore.TimeoutException, httpcore.NetworkError, httpcore.ProtocolError):
        for part in response.iter_stream():
            count += len(part)
            if count > ANSWER_BYTES:
                return


class _CheckedNetwork(httpcore.NetworkBackend):
    """Connects to addresses that were checked; all of it ends at a moment of the monotonic clock."""

    def __init__(self, private_allowed: bool, ends: float):
        self._private_allowed = private_allowed
        self._ends = ends
        self._sockets = httpcore.SyncBackend()

    def connect_tcp(  # type: ignore[override] # the library names all of them
        self,
        host: str,
        port: int,
        timeout: float | None = None,  # noqa: ARG002 (the end of all is the end of each)
        *,
        local_address: str | None = None,
        socket_options: Iterable[Any] | None = None,
    ) -> httpcore.NetworkStream:
        """A connection to the first address of the name that takes one."""
        failed: Exception = NotTakenError("its name leads nowhere")
        addresses = self._addresses(host, port)
        for number, address in enumerate(addresses):
            share = _left(self._ends) / (len(addresses) - number)  # a silent one leaves time for the rest
            try:
                stream = self._sockets.connect_tcp(
                    address, port, share, local_address=local_address, socket_options=socket_options
                )
            except (httpcore.ConnectError, httpcore.ConnectTimeout) as error:
                failed = error
            else:
                return _EndingStream(stream, self._ends)
        raise failed

    def _addresses(self, host: str, port: int) -> list[str]:
        try:
            found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
        except (OSError, UnicodeError) as error:
            raise NotTakenError("its name cannot be looked up") from error
        addresses = list(dict.fromkeys(str(place[0]) for *_, place in found))
        if not self._private_allowed and not all(map(is_public, addresses)):
            raise NotTakenError(
                "it is at an address that is not of the public internet "
                "(AERIAL_ASSAY_WEBHOOK_PRIVATE=allowed would allow it)"
            )
        return addresses


class _EndingStream(httpcore.NetworkStream):
    """A connection on which every step gets the time that is left, so that slow bytes cannot hold it open."""

    def __init__(self, stream: httpcore.NetworkStream, ends: float):
        self._stream = stream
        self._ends = ends

    def read(self, max_bytes: int, timeout: float | None = None) -> bytes:  # noqa: ARG002 (as above)
        """What came."""
        return self._stream.read(max_bytes, _left(self._ends))

    def write(self, buffer: bytes, timeout: float | None = None) -> None:  # noqa: ARG002 (as above)
        """Send it all."""
        self._stream.write(buffer, _left(self._ends))

    def close(self) -> None:
        """Close it."""
        self._stream.close()

    def start_tls(
        self,
        ssl_context: ssl.SSLContext,
        server_hostname: str | None = None,
        timeout: float | None = None,  # noqa: ARG002 (as above)
    ) -> httpcore.NetworkStream:
        """The same connection with TLS, to whoever shows a certificate for the name."""
        stream = self._stream.start_tls(ssl_context, server_hostname, _left(self._ends))
        return _EndingStream(stream, self._ends)

    def get_extra_info(self, info: str) -> Any:
        """What the library asks of its own connections."""
        return self._stream.get_extra_info(info)


def _left(ends: float) -> float:
    """The seconds that are left. Raises ReadTimeout where there are none."""
    left = ends - time.monotonic()
    if left <= 0:
        raise httpcore.ReadTimeout("the time is over")
    return left
