"""Clients that send or read next to nothing lose their connection; those that are slow and steady do not."""

import socket
import threading
import time

import pytest

from service.operations import problem_server as serving
from service.operations.graceful_stop import serve_until
from service.settings import Limits, Settings

LOOKS = 1
HEAD = b"POST / HTTP/1.1\r\nHost: localhost\r\n"
LARGE = 64 * [b"x" * 2**20]
PATIENCE = 20


class Answering:
    """An application whose answers are small, or larger than what a connection takes at once."""

    def wsgi_app(self, environ, start_response):
        environ["wsgi.input"].read()
        start_response("200 OK", [("Content-Type", "text/plain")])
        return LARGE if environ["PATH_INFO"] == "/large" else [b"small"]


@pytest.fixture
def address(monkeypatch):
    monkeypatch.setattr(serving, "IDLE_SECONDS", LOOKS)
    server = serving.problem_server(Answering(), Settings(port=0, limits=Limits(waiting=1)))
    asked = threading.Event()
    thread = threading.Thread(target=serve_until, args=(server, asked), kwargs={"seconds": 0})
    thread.start()
    yield server.effective_host, server.effective_port
    asked.set()
    server.pull_trigger()
    thread.join()


def connected(address, sent: bytes) -> socket.socket:
    connection = socket.create_connection(address, timeout=PATIENCE)
    connection.sendall(sent)
    return connection


def closed_while(connection, step: bytes, *, pause: float) -> bool:
    """Whether the other side closes while a step is sent now and then."""
    connection.settimeout(pause)
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        try:
            connection.sendall(step)
            if connection.recv(1) == b"":
                return True
        except TimeoutError:
            continue
        except OSError:
            return True
    return False


@pytest.mark.parametrize(
    ("begun", "step"),
    [(HEAD + b"A: ", b"a"), (HEAD + b"Content-Length: 9999\r\n\r\n", b"b")],
    ids=["head", "body"],
)
def test_a_request_of_one_byte_now_and_then_is_ended(address, begun, step):
    with connected(address, begun) as connection:
        assert closed_while(connection, step, pause=LOOKS / 3)


def test_a_request_that_comes_slowly_but_steadily_is_answered(address):
    parts, part = 20, b"c" * 150  # in a tenth of a second each: three times what is wanted
    with connected(address, HEAD + b"Content-Length: %d\r\n\r\n" % (parts * len(part))) as connection:
        for _ in range(parts):
            time.sleep(0.1)
            connection.sendall(part)
        assert connection.recv(100).startswith(b"HTTP/1.1 200")


def test_answers_that_nobody_reads_hold_no_thread(address):
    """More of them than there are threads; whoever comes next is answered all the same."""
    threads = 1 + serving.ALWAYS_ANSWERED
    ask = b"GET /large HTTP/1.1\r\nHost: localhost\r\n\r\n"
    unread = [connected(address, ask) for _ in range(threads + 1)]
    try:
        time.sleep(2 * LOOKS)
        with connected(address, HEAD + b"Content-Length: 0\r\n\r\n") as connection:
            assert connection.recv(100).startswith(b"HTTP/1.1 200")
    finally:
        for connection in unread:
            connection.close()
