"""Faults that the server meets before the application are problems too, and slow clients stop nobody."""

import json
import socket

import httpx
import pytest

from tests.operations.conftest import BODY_BYTES

CSV = {"Content-Type": "text/csv"}


def exchange(address, request: bytes) -> tuple[int, dict[str, str], dict]:
    """Status, headers and problem that come back for raw bytes."""
    with socket.create_connection(address, timeout=10) as connection:
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
            connection = socket.create_connection(running.address, timeout=10)
            connection.sendall(
                b"POST /v1/verdicts HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n{"
            )
            slow.append(connection)
        assert httpx.get(f"{running.url}/healthz", timeout=5).json() == {"status": "alive"}
    finally:
        for connection in slow:
            connection.close()
