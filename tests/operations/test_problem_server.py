"""Faults that the server meets before the application are problems too, and slow clients stop nobody."""

import json
import socket

import httpx
import pytest

from tests.operations.conftest import BODY_BYTES

CSV = {"Content-Type": "text/csv"}


def exchange(address, request: bytes) -> tuple[int, dict[str, str], dict]:
    """Status, headers and problem that come back for raw bytes."""
    with socket.create_connection(address, timeout=60) as connection:
        connection.sendall(request)
        connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    head, _, body = answer.partition(b"\r\n\r\n")
    status, *fields = head.decode().split("\r\n")
    headers = {name.lower(): value for name, value in (field.split(": ", 1) for field in fields)}
    return int(status.split()[1]), headers, json.loads(body)


@pytest.mark.parametrize(
    ("request_bytes", "status"),
    [
        (b"nonsense\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost : x\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nContent-Length: -1\r\n\r\n", 400),
        # exactly the limit: of more, the rest would stay unread and the answer might be lost
        ((b"GET / HTTP/1.1\r\nA: " + b"a" * 32_768)[: 32 * 1024], 431),
        (b"POST /v1/verdicts HTTP/1.1\r\nContent-Length: 999999999999\r\n\r\n", 413),
        (b"POST /v1/verdicts HTTP/1.1\r\nTransfer-Encoding: gzip\r\n\r\n", 501),
    ],
    ids=["no request line", "spaced field", "negative length", "long header", "long body", "unknown coding"],
)
def test_protocol_faults_are_problems(running, request_bytes, status):
    answered, headers, problem = exchange(running.address, request_bytes)
    assert (answered, headers["content-type"]) == (status, "application/problem+json")
    assert headers["x-content-type-options"] == "nosniff"
    assert problem["status"] == status
    kind = httpx.get(running.url + problem["type"])
    assert kind.status_code == 200


BEHIND = b"GET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n"
IN_CHUNKS = b"Transfer-Encoding: chunked\r\n"
AMBIGUOUS = {
    "chunks and a length": (b"POST / HTTP/1.1", IN_CHUNKS + b"Content-Length: 5\r\n"),
    "chunks before HTTP/1.1": (b"POST / HTTP/1.0", b"Connection: keep-alive\r\n" + IN_CHUNKS),
    "chunks of a version to come": (b"POST / HTTP/1.2", b"Connection: keep-alive\r\n" + IN_CHUNKS),
    "two lengths": (b"POST / HTTP/1.1", b"Content-Length: 5\r\nContent-Length: 6\r\n"),
    "a length with a sign": (b"POST / HTTP/1.1", b"Content-Length: +5\r\n"),
    "a size of a chunk that is none": (b"POST / HTTP/1.1", IN_CHUNKS + b"\r\nzz"),
    "an extension of a chunk over two lines": (b"POST / HTTP/1.1", IN_CHUNKS + b"\r\n2;a=\nb"),
    "a lone end of line": (b"GET / HTTP/1.1", b"A: b\rContent-Length: 5\r\n"),
    "a zero sign": (b"GET / HTTP/1.1", b"A: b\0\r\n"),
    "another host in the request line": (b"GET http://other.example/ HTTP/1.1", b""),
    "no place in the request line": (b"GET http://[ HTTP/1.1", b""),
}


@pytest.mark.parametrize(("line", "fields"), AMBIGUOUS.values(), ids=AMBIGUOUS)
def test_what_could_be_two_requests_is_refused_and_nothing_behind_it_read(running, line, fields):
    """`exchange` reads what comes to its end as one answer; the connection is closed."""
    head = line + b"\r\nHost: localhost\r\n" + fields + b"\r\n"
    status, headers, problem = exchange(running.address, head + b"0\r\n\r\n" + BEHIND)
    assert (status, problem["status"], headers["content-type"]) == (400, 400, "application/problem+json")


@pytest.mark.parametrize("fields", [b"", b"Host: localhost\r\nHost: localhost\r\n"], ids=["none", "two"])
def test_one_host_is_named_and_what_serves_is_not(running, fields):
    status, _, problem = exchange(running.address, b"GET /healthz HTTP/1.1\r\n" + fields + b"\r\n")
    assert status == 400
    assert "waitress" not in json.dumps(problem)


def chunks(total: int):
    for _ in range(total // 500):
        yield b" " * 500


@pytest.mark.parametrize("length", [BODY_BYTES + 500, 20 * BODY_BYTES])
def test_a_chunked_body_over_the_limit_is_a_problem(running, length):
    answer = httpx.post(f"{running.url}/v1/verdicts?unit=dB", content=chunks(length), headers=CSV)
    assert answer.status_code == 413
    assert answer.headers["Content-Type"] == "application/problem+json"


def test_a_body_over_the_limit_is_a_problem_that_names_it(running):
    answer = httpx.post(f"{running.url}/v1/verdicts?unit=dB", content=b" " * (BODY_BYTES + 1), headers=CSV)
    assert answer.status_code == 413
    assert f"{BODY_BYTES} bytes" in answer.json()["detail"]


def test_a_body_that_the_server_itself_refuses_is_told_the_same_limit(running):
    head = b"POST /v1/verdicts HTTP/1.1\r\nContent-Length: 999999999999\r\n\r\n"
    _, _, problem = exchange(running.address, head)
    assert f"at most {BODY_BYTES} bytes" in problem["detail"]
    assert "Send fewer" in problem["detail"]


def test_bad_input_is_answered_from_the_worker(running):
    answer = httpx.post(
        f"{running.url}/v1/verdicts", content=b"{", headers={"Content-Type": "application/json"}
    )
    assert (answer.status_code, answer.headers["Content-Type"]) == (400, "application/problem+json")


def test_four_hundred_clients_that_send_slowly_stop_nobody(running):
    slow = []
    try:
        for _ in range(400):
            connection = socket.create_connection(running.address, timeout=60)
            connection.sendall(
                b"POST /v1/verdicts HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n{"
            )
            slow.append(connection)
        assert httpx.get(f"{running.url}/healthz", timeout=60).json() == {"status": "alive"}
    finally:
        for connection in slow:
            connection.close()
