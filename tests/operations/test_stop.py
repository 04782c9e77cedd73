"""Asked to stop, the server finishes what is under way, within its time, and takes nothing more."""

import socket
import time
from pathlib import Path

from tests.started_server import Running, start
from tests.waiting import until

HEAD = (
    b"POST /v1/verdicts HTTP/1.1\r\nHost: localhost\r\n"
    b"Content-Type: application/json\r\nContent-Length: 2\r\n\r\n"
)


def half_sent(server: Running) -> socket.socket:
    """A connection whose request lacks its last byte; the server has read all but that."""
    connection = socket.create_connection(server.address, timeout=60)
    connection.sendall(HEAD + b"{")
    ours = connection.getsockname()[1]
    until(lambda: unread(server.address[1], ours) == 0)
    return connection


def unread(port: int, peer: int) -> int:
    """Bytes that wait in the kernel for whoever talks to the peer at a port (proc(5): /proc/net/tcp)."""
    for line in Path("/proc/net/tcp").read_text().splitlines()[1:]:
        _, local, remote, _, queues, *_ = line.split()
        if [int(end.split(":")[1], 16) for end in (local, remote)] == [port, peer]:
            return int(queues.split(":")[1], 16)
    return -1


def refused(server: Running) -> bool:
    try:
        socket.create_connection(server.address, timeout=2).close()
    except OSError:
        return True
    return False


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
    assert 0.9 < time.monotonic() - asked < 20  # the connection itself would be given up after 30 seconds


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
    assert time.monotonic() - asked < 20
