"""The receiver of the examples: it believes what is signed, whole, new and young, and nothing else."""

import json
import sqlite3
import subprocess
import time
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path

import httpx
import pytest

from service.jobs.message_signature import signed_headers
from service.jobs.targets import Target
from tests.contracts import recipe_receiver
from tests.contracts.recipe_receiver import SECRET

OLDEST_SECONDS = 300
NOTICE = {"format": "verdict-notice/1", "trial": "1" * 32, "analysis": "2" * 32, "outcome": "within noise"}
NOTICE |= {"statement": "Rod and wire are within noise.", "report": "/v1/analyses/2/report"}


@dataclass
class Receiving:
    """The receiver as a process, and what its memory holds."""

    url: str
    memory: Path
    process: subprocess.Popen[str]
    sent: int = field(default=0)

    def notice(self, delivery: str = "d1") -> bytes:
        return json.dumps(NOTICE | {"delivery": delivery}).encode()

    def headers(self, body: bytes, *, path: str = "told?by=assay", secret: str = SECRET, age: int = 0):
        self.sent += 1
        created = int(time.time()) - age
        nonce = f"nonce-{self.sent}"
        return signed_headers(Target.of(self.url + path), body, secret=secret, created=created, nonce=nonce)

    def post(self, body: bytes, headers: dict[str, str], *, path: str = "told?by=assay") -> httpx.Response:
        return httpx.post(self.url + path, content=body, headers=headers)

    def printed(self) -> list[str]:
        """All that was printed, once it has been ended."""
        self.process.terminate()
        return self.process.communicate()[0].splitlines()


@pytest.fixture
def receiving(tmp_path):
    memory = tmp_path / "seen.sqlite3"
    with recipe_receiver.receiving(memory) as (address, process):
        yield Receiving(address, memory, process)


def refused(answer: httpx.Response, why: str) -> None:
    assert (answer.status_code, answer.text) == (401, why)


def test_what_is_signed_is_taken_and_printed_once(receiving):
    body = receiving.notice()
    assert receiving.post(body, receiving.headers(body)).status_code == 204
    assert receiving.post(body, receiving.headers(body)).status_code == 204  # tried again: another nonce
    other = receiving.notice("d2")
    assert receiving.post(other, receiving.headers(other)).status_code == 204
    line = "within noise: Rod and wire are within noise. (/v1/analyses/2/report)"
    assert receiving.printed() == [line, line]


def test_a_wrong_signature_is_refused(receiving):
    body = receiving.notice()
    refused(receiving.post(body, receiving.headers(body, secret="t" * 32)), "the signature is wrong")
    headers = receiving.headers(body)
    for name in ("Signature", "Signature-Input"):
        refused(receiving.post(body, headers | {name: ""}), "it is not signed")
    assert receiving.printed() == []


@pytest.mark.parametrize(
    "changed",
    [
        ("created=1", "created=2"),
        ("expires=1", "expires=2"),
        ('nonce="nonce-1"', 'nonce="nonce-2"'),
        ("aerial-assay", "another"),
    ],
)
def test_no_parameter_of_the_signature_can_be_changed(receiving, changed):
    body = receiving.notice()
    headers = receiving.headers(body)
    given = headers["Signature-Input"].replace(*changed)
    assert given != headers["Signature-Input"]
    refused(receiving.post(body, headers | {"Signature-Input": given}), "the signature is wrong")


def test_no_part_can_be_left_unsigned(receiving):
    body = receiving.notice()
    headers = receiving.headers(body)
    given = headers["Signature-Input"].replace(' "content-digest"', "")
    answer = receiving.post(body, headers | {"Signature-Input": given})
    refused(answer, "other parts are signed than should be")


def test_another_body_is_refused(receiving):
    body = receiving.notice()
    headers = receiving.headers(body)
    other = receiving.notice("d2")
    refused(receiving.post(other, headers), "the body is not the one that was signed")
    digest = receiving.headers(other)["Content-Digest"]
    refused(receiving.post(other, headers | {"Content-Digest": digest}), "the signature is wrong")


@pytest.mark.parametrize("path", ["elsewhere?by=assay", "told?by=other", "told"])
def test_what_was_signed_for_another_place_is_refused(receiving, path):
    body = receiving.notice()
    refused(receiving.post(body, receiving.headers(body), path=path), "the signature is wrong")


def test_what_was_signed_for_another_receiver_is_refused(receiving):
    body = receiving.notice()
    headers = receiving.headers(body) | {"Host": "other.example"}
    refused(receiving.post(body, headers), "the signature is wrong")


@pytest.mark.parametrize("age", [OLDEST_SECONDS + 5, -90])
def test_an_old_one_and_one_from_the_future_are_refused(receiving, age):
    body = receiving.notice()
    refused(receiving.post(body, receiving.headers(body, age=age)), "it is too old, or the clocks differ")


@pytest.mark.parametrize("age", [OLDEST_SECONDS - 30, -30])
def test_clocks_may_differ_a_little(receiving, age):
    body = receiving.notice()
    assert receiving.post(body, receiving.headers(body, age=age)).status_code == 204


def test_a_repeated_nonce_is_refused(receiving):
    body = receiving.notice()
    headers = receiving.headers(body)
    assert receiving.post(body, headers).status_code == 204
    refused(receiving.post(body, headers), "its nonce was seen before")
    assert len(receiving.printed()) == 1


def test_what_was_refused_leaves_nothing_in_its_memory(receiving):
    body = receiving.notice()
    receiving.post(body, receiving.headers(body, secret="t" * 32))
    receiving.post(body, receiving.headers(body, age=999))
    assert not receiving.memory.exists()
    receiving.post(body, receiving.headers(body))
    with sqlite3.connect(receiving.memory) as memory:
        words = {word for (word,) in memory.execute("SELECT word FROM seen")}
    memory.close()
    assert words == {"nonce-3", "d1"}


def test_a_body_that_is_too_long_is_not_read(receiving):
    connection = HTTPConnection(Target.of(receiving.url).authority, timeout=60)
    connection.putrequest("POST", "/")
    connection.putheader("Content-Length", "70000")
    connection.endheaders()
    assert connection.getresponse().status == 413
    connection.close()
