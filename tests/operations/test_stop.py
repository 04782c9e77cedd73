"""Asked to stop, the server finishes what is under way, within its time, and takes nothing more."""

import socket
import time

import httpx

from tests.operations.conftest import Running, start

HEAD = (
    b"POST /v1/verdicts HTTP/1.1\r\nHost: localhost\r\n"
    b"Content-Type: application/json\r\nContent-Length: 2\r\n\r\n"
)


def half_sent(server: Running) -> socket.socket:
    """A connection whose request lacks its last byte."""
    connection = socket.create_connection(server.address, timeout=10)
    connection.sendall(HEAD + b"{")
    time.sleep(0.3)  # until the server has read it
    return connection


def refused(server: Running) -> bool:
    try:
        socket.create_connection(server.address, timeout=2).close()
    except OSError:
        return True
    return False


def until(condition) -> None:
    deadline = time.monotonic() + 10
    while not condition():
        assert time.monotonic() < deadline
        time.sleep(0.02)


def test_a_request_under_way_is_finished_and_no_other_taken():
    server = start()
    connection = half_sent(server)
    server.ask_to_stop()
    until(lambda: refused(server))
    connection.sendall(b"}")
    answer = b"".join(iter(lambda: connection.recv(65536), b""))
    connection.close()
    assert answer.startswith(b"HTTP/1.1 422 "), answer[:100]
    status, log = server.ended()
    assert status == 0
    assert [line["route"] for line in log] == ["/v1/verdicts"]


def test_it_waits_no_longer_than_it_is_told():
    server = start(AERIAL_ASSAY_STOP_SECONDS="1")
    connection = half_sent(server)
    asked = time.monotonic()
    assert server.stop() == (0, [])
    connection.close()
    assert 0.9 < time.monotonic() - asked < 10


def test_an_idle_connection_keeps_nobody_waiting():
    server = start(AERIAL_ASSAY_STOP_SECONDS="20")
    with httpx.Client(base_url=server.url) as client:
        assert client.get("/healthz").status_code == 200
        asked = time.monotonic()
        assert server.stop() == (0, [])
        assert time.monotonic() - asked < 8


def test_a_second_signal_ends_it_at_once():
    server = start(AERIAL_ASSAY_STOP_SECONDS="60")
    connection = half_sent(server)
    server.ask_to_stop()
    until(lambda: refused(server))
    asked = time.monotonic()
    server.ask_to_stop()
    status, _ = server.ended()
    connection.close()
    assert status == 128 + 15
    assert time.monotonic() - asked < 10
