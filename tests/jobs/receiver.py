"""A receiver on the loopback address that answers as a test tells it, and notes what came."""

import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field

TAKEN = b"HTTP/1.1 204 No Content\r\n\r\n"


def answer(status: int, *headers: str, body: bytes = b"") -> bytes:
    """A whole answer."""
    lines = [f"HTTP/1.1 {status} Said", *headers, f"Content-Length: {len(body)}", "Connection: close", "", ""]
    return "\r\n".join(lines).encode() + body


@dataclass(frozen=True)
class Came:
    """One request."""

    line: str
    headers: dict[str, str]
    body: bytes


@dataclass
class Receiver:
    """Answers the first of `answers` to each request, the last one again and again.

    An answer is bytes, or a function of the socket that says what it wants in its own time.
    """

    answers: list = field(default_factory=lambda: [TAKEN])
    came: list[Came] = field(default_factory=list)
    connections: int = 0
    names: list[str | None] = field(default_factory=list)
    port: int = 0

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/told?by=assay"

    def serve(self, connection: socket.socket) -> None:
        self.connections += 1
        with connection, suppress(OSError):
            connection.settimeout(20)
            self.came.append(_request(connection))
            said = self.answers.pop(0) if len(self.answers) > 1 else self.answers[0]
            if callable(said):
                said(connection)
            else:
                connection.sendall(said)


def _request(connection: socket.socket) -> Came:
    came = b""
    while b"\r\n\r\n" not in came:
        part = connection.recv(65536)
        if not part:
            raise OSError("it ended")
        came += part
    head, body = came.split(b"\r\n\r\n", 1)
    line, *fields = head.decode("ascii").split("\r\n")
    headers = {name.lower(): value.strip() for name, value in (each.split(":", 1) for each in fields)}
    while len(body) < int(headers.get("content-length", "0")):
        body += connection.recv(65536)
    return Came(line, headers, body)


@contextmanager
def listening(receiver: Receiver, *, port: int = 0, tls: ssl.SSLContext | None = None) -> Iterator[Receiver]:
    """The receiver at a port, a free one by default, until the end of the block."""
    if tls is not None:
        tls.sni_callback = lambda _socket, name, _context: receiver.names.append(name)
    with socket.create_server(("127.0.0.1", port)) as listener:
        receiver.port = listener.getsockname()[1]
        thread = threading.Thread(target=_accept, args=(listener, receiver, tls))
        thread.start()
        try:
            yield receiver
        finally:
            listener.shutdown(socket.SHUT_RDWR)
            thread.join()


def _accept(listener: socket.socket, receiver: Receiver, tls: ssl.SSLContext | None) -> None:
    while True:
        try:
            connection, _ = listener.accept()
        except OSError:
            return
        with suppress(OSError):
            receiver.serve(connection if tls is None else tls.wrap_socket(connection, server_side=True))
