"""One POST to somebody else's address: what is refused, and what a receiver cannot do to the sender."""

import socket
import ssl
import time
from contextlib import ExitStack
from pathlib import Path

import pytest

from service.jobs.posting import ANSWER_BYTES, Answer, NotTakenError, Poster
from service.jobs.targets import Target
from tests.jobs.receiver import Receiver, answer, listening

TLS = Path(__file__).parent / "tls"
"""An invented receiver's certificate: openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1
-nodes -days 36500 -subj /CN=receiver.example -addext subjectAltName=DNS:receiver.example."""
HEADERS = {"Content-Type": "application/json"}
PRIVATE = "not of the public internet"
DRIPPING_SECONDS = 30.0


def post(url: str, *, private_allowed: bool = True, seconds: float = 30.0, trusted=None) -> Answer:
    return Poster(private_allowed, seconds=seconds, trusted=trusted).post(Target.of(url), HEADERS, b"{}")


@pytest.fixture
def receiver():
    with listening(Receiver()) as receiver:
        yield receiver


@pytest.mark.parametrize(
    "host",
    [
        "127.0.0.1",
        "localhost",
        "127.1",
        "2130706433",
        "0x7f000001",
        "0177.0.0.1",
        "0.0.0.0",  # noqa: S104 (nothing is bound to it)
        "[::1]",
        "[::]",
        "[::ffff:127.0.0.1]",
        "[::ffff:7f00:1]",
        "10.1.2.3",
        "169.254.169.254",
        "100.64.0.1",
        "[64:ff9b::7f00:1]",
        "[fe80::1]",
    ],
)
def test_an_address_inside_is_refused_however_it_is_spelled(receiver, host):
    with pytest.raises(NotTakenError, match=PRIVATE):
        post(f"http://{host}:{receiver.port}/", private_allowed=False)
    assert receiver.connections == 0


def test_it_is_reached_where_that_is_allowed(receiver):
    assert post(receiver.url) == Answer(204, None)
    (came,) = receiver.came
    assert came.line == "POST /told?by=assay HTTP/1.1"
    assert came.body == b"{}"
    assert came.headers["content-type"] == "application/json"


def looked_up(monkeypatch, *rounds: list[str]) -> list[str]:
    """Let each look-up of a name answer the next of the rounds; the names that were looked up."""
    asked, there = [], socket.getaddrinfo
    waiting = list(rounds)

    def stand_in(host, port, *rest, **more):
        if not str(host).endswith(".example"):
            return there(host, port, *rest, **more)
        asked.append(host)
        return [(socket.AF_INET, socket.SOCK_STREAM, 6, "", (address, port)) for address in waiting.pop(0)]

    monkeypatch.setattr(socket, "getaddrinfo", stand_in)
    return asked


def test_one_address_inside_among_public_ones_is_enough_to_refuse(monkeypatch, receiver):
    asked = looked_up(monkeypatch, ["11.0.0.1", "127.0.0.1"])
    with pytest.raises(NotTakenError, match=PRIVATE):
        post(f"http://receiver.example:{receiver.port}/", private_allowed=False)
    assert asked == ["receiver.example"]
    assert receiver.connections == 0


def test_the_address_that_was_checked_is_the_one_that_is_reached(monkeypatch, receiver):
    """A name whose second look-up would lead elsewhere: there is none."""
    monkeypatch.setattr("service.jobs.posting.is_public", lambda address: address == "127.0.0.1")
    asked = looked_up(monkeypatch, ["127.0.0.1"], ["127.0.0.2"])
    assert post(f"http://receiver.example:{receiver.port}/", private_allowed=False).status == 204
    assert asked == ["receiver.example"]


def test_an_address_that_refuses_is_followed_by_the_next(monkeypatch, receiver):
    looked_up(monkeypatch, ["127.0.0.2", "127.0.0.1"])
    assert post(f"http://receiver.example:{receiver.port}/").status == 204


def test_an_address_that_is_silent_leaves_time_for_the_next(monkeypatch, receiver):
    looked_up(monkeypatch, ["127.0.0.2", "127.0.0.1"])
    with ExitStack() as open_sockets:
        silent = open_sockets.enter_context(socket.socket())
        silent.bind(("127.0.0.2", receiver.port))
        silent.listen(0)  # whoever comes when its line is full gets no answer
        for _ in range(4):
            waiting = open_sockets.enter_context(socket.socket())
            waiting.setblocking(False)
            waiting.connect_ex(("127.0.0.2", receiver.port))
        with pytest.raises(NotTakenError, match="no answer within"):
            post(f"http://127.0.0.2:{receiver.port}/", seconds=0.5)
        assert post(f"http://receiver.example:{receiver.port}/", seconds=2.0).status == 204


@pytest.fixture
def certified():
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(TLS / "receiver.crt", TLS / "receiver.key")
    with listening(Receiver(), tls=context) as receiver:
        yield receiver


def believing() -> ssl.SSLContext:
    return ssl.create_default_context(cafile=TLS / "receiver.crt")


def test_tls_goes_by_the_name_while_the_connection_goes_to_the_address(monkeypatch, certified):
    looked_up(monkeypatch, ["127.0.0.1"])
    url = f"https://receiver.example:{certified.port}/"
    assert post(url, trusted=believing()).status == 204
    assert certified.names == ["receiver.example"]


@pytest.mark.parametrize("name", ["other.example", "127.0.0.1"])
def test_a_certificate_for_another_name_is_refused(monkeypatch, certified, name):
    looked_up(monkeypatch, ["127.0.0.1"])
    with pytest.raises(NotTakenError, match="CERTIFICATE_VERIFY_FAILED"):
        post(f"https://{name}:{certified.port}/", trusted=believing())
    assert certified.came == []


def test_a_certificate_of_nobody_known_is_refused(monkeypatch, certified):
    looked_up(monkeypatch, ["127.0.0.1"])
    with pytest.raises(NotTakenError, match="CERTIFICATE_VERIFY_FAILED"):
        post(f"https://receiver.example:{certified.port}/")


def test_a_redirect_is_an_answer_and_followed_nowhere(receiver):
    receiver.answers = [answer(307, f"Location: {receiver.url}")]
    assert post(receiver.url).status == 307
    assert receiver.connections == 1


def test_no_proxy_of_the_environment_is_used(monkeypatch, receiver):
    for name in ("http_proxy", "HTTP_PROXY", "all_proxy", "ALL_PROXY"):
        monkeypatch.setenv(name, "http://127.0.0.1:9")
    assert post(receiver.url).status == 204


def test_retry_after_is_told(receiver):
    receiver.answers = [answer(503, "Retry-After: 120", body=b"later")]
    assert post(receiver.url) == Answer(503, "120")


def drip(piece: bytes):
    """Say a piece again and again, each well within the timeout of a single step, until nobody listens."""

    def say(connection: socket.socket) -> None:
        connection.sendall(b"HTTP/1.1 200 OK\r\n")
        for _ in range(int(DRIPPING_SECONDS / 0.05)):
            connection.sendall(piece)
            time.sleep(0.05)

    return say


def test_slow_headers_do_not_hold_it(receiver):
    receiver.answers = [drip(b"X-Slow: 1\r\n")]
    began = time.monotonic()
    with pytest.raises(NotTakenError, match=r"no answer within 0\.5 seconds"):
        post(receiver.url, seconds=0.5)
    assert time.monotonic() - began < DRIPPING_SECONDS / 2


def test_a_slow_body_does_not_hold_it_and_the_status_stands(receiver):
    receiver.answers = [lambda link: (link.sendall(b"HTTP/1.1 200 OK\r\n\r\n"), drip(b"x")(link))]
    began = time.monotonic()
    assert post(receiver.url, seconds=2.0).status == 200
    assert time.monotonic() - began < DRIPPING_SECONDS / 2


def test_of_a_huge_body_little_is_read(receiver):
    said = []

    def pour(link: socket.socket) -> None:
        link.sendall(b"HTTP/1.1 200 OK\r\n\r\n")
        for _ in range(2_000):
            link.sendall(b"x" * 2**16)
            said.append(2**16)

    receiver.answers = [pour]
    assert post(receiver.url).status == 200
    assert ANSWER_BYTES < sum(said) < 64 * 2**20  # what the kernel's buffers took, of 125 MiB


@pytest.mark.parametrize("said", [b"", b"SSH-2.0-x\r\n", b"HTTP/1.1 200", b"\x15\x03\x01\x00\x02\x02\x16"])
def test_what_is_no_answer_is_told_as_such(receiver, said):
    receiver.answers = [said]
    with pytest.raises(NotTakenError):
        post(receiver.url)


def test_nobody_there_is_told():
    with listening(Receiver()) as receiver:
        url = receiver.url
    with pytest.raises(NotTakenError, match="refused"):
        post(url)


@pytest.mark.parametrize("host", ["no-such-name.invalid", f"{'a' * 70}.example", "a..example"])
def test_a_name_that_leads_nowhere_is_told(host):
    with pytest.raises(NotTakenError, match="cannot be looked up"):
        post(f"http://{host}/")
