"""A small body that unpacks beyond the limit is refused by its directory, and the server does not swell."""

import io
import json
import re
import zipfile
from http.client import HTTPConnection
from pathlib import Path

import pytest

from service.settings import Limits
from tests.faults.servers import free_port
from tests.faults.writers import TRIAL
from tests.intake.made_workbooks import XLSX, repacked, workbook
from tests.jobs.archives import raw_zip

ZIP = "application/zip"
BEYOND = max(Limits().workbook_bytes, Limits().archive_bytes) + 2**20
ROWS = [["element", "round", "channel", "value"], ["a", 1, "Quay", 5]]
MOST_MEGABYTES = 48.0
"""What the server may grow by meanwhile: far below what the bodies unpack to."""


@pytest.fixture(scope="module")
def bodies():
    """A workbook and an archive that unpack to more than is allowed, and both with a directory that lies."""
    zeros = bytes(BEYOND)
    honest = {
        XLSX: repacked(workbook(ROWS), xl__worksheets__sheet1___xml=zeros),
        ZIP: raw_zip([("trial.json", b"{}"), ("readings.csv", zeros)]),
    }
    return honest, {kind: lying(body, 1000) for kind, body in honest.items()}


def lying(body: bytes, size: int) -> bytes:
    """The zip, every size beyond the limit said to be another one."""
    told, lie = BEYOND.to_bytes(4, "little"), size.to_bytes(4, "little")
    assert body.count(told) == 2  # before the member and in the directory
    return body.replace(told, lie)


@pytest.fixture(scope="module")
def server(forked, tmp_path_factory):
    place = tmp_path_factory.mktemp("unpacked") / "kept.sqlite3"
    server = forked.start(f"sqlite:///{place}", free_port()).wait()
    yield server
    server.kill()


def ask(server, method: str, path: str, body: bytes | None = None, *, kind: str = "application/json"):
    connection = HTTPConnection("127.0.0.1", server.port, timeout=120)
    connection.request(method, path, body, {"Content-Type": kind})
    answer = connection.getresponse()
    content = json.loads(answer.read())
    connection.close()
    return answer.status, content


def largest_megabytes(server) -> float:
    status = Path(f"/proc/{server.process}/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+)", status)[1]) / 1024


def path_of(trial: dict, kind: str) -> str:
    return f"/v1/trials/{trial['id']}/{'readings' if kind == XLSX else 'replay'}"


def warm(server, trial: dict) -> None:
    """Let it load what it reads small ones with."""
    assert ask(server, "POST", path_of(trial, XLSX), workbook(ROWS), kind=XLSX)[0] == 201
    assert ask(server, "POST", path_of(trial, ZIP), raw_zip([("trial.json", b"{}")]), kind=ZIP)[0] == 422


@pytest.mark.parametrize("kind", [XLSX, ZIP])
def test_it_is_refused_before_it_is_unpacked(server, bodies, kind):
    trial = ask(server, "POST", "/v1/trials", TRIAL)[1]
    warm(server, trial)
    before, (honest, dishonest) = largest_megabytes(server), bodies
    status, problem = ask(server, "POST", path_of(trial, kind), honest[kind], kind=kind)
    assert (status, problem["type"]) == (413, "/v1/problems/over-a-limit")
    assert re.search(r"unpacks to \d{9} bytes.*at most 268435456 ", problem["detail"])
    status, problem = ask(server, "POST", path_of(trial, kind), dishonest[kind], kind=kind)
    assert status in {400, 422}, problem
    assert largest_megabytes(server) - before < MOST_MEGABYTES
    assert ask(server, "GET", f"/v1/trials/{trial['id']}")[1]["kept"]["version"] == 2


def test_the_bodies_are_what_they_are_taken_for(bodies):
    """Small, and in the honest ones the sizes add up; read whole they would not stay below the bar."""
    for body in bodies[0].values():
        assert len(body) < 2**20
        with zipfile.ZipFile(io.BytesIO(body)) as archive:
            assert sum(entry.file_size for entry in archive.infolist()) >= BEYOND > MOST_MEGABYTES * 2**20
