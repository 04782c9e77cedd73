"""Two servers on one SQLite file, four clients that read a version and write the next: no update may be lost.

python -m tests.faults.two_servers --updates 6000
"""

import argparse
import json
import sys
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from pathlib import Path

from tests.faults.servers import Forked, Starter, free_port
from tests.faults.writers import TRIAL

CLIENTS = 4
PATCH = {"Content-Type": "application/merge-patch+json"}


def counted(url: str, starter: Starter, updates: int) -> tuple[int, int, Counter[int]]:
    """The count and version that a trial is at after so many updates, and the statuses that were answered.

    Each update reads the trial, adds one to the count in its title and writes it with the version read; where
    another was quicker (412) it reads again.
    """
    ports = [free_port(), free_port()]
    servers = [starter.start(url, port).wait() for port in ports]
    try:
        path = _kept(ports[0])
        share = updates // CLIENTS
        with ThreadPoolExecutor(CLIENTS) as threads:
            done = threads.map(lambda number: _update(ports[number % 2], path, share), range(CLIENTS))
            statuses = sum(done, Counter())
        document = _ask(HTTPConnection("127.0.0.1", ports[1]), "GET", path)[1]
    finally:
        for server in servers:
            server.kill()
    return int(document["title"]), int(document["kept"]["version"]), statuses


def _kept(port: int) -> str:
    trial = json.loads(TRIAL) | {"title": "0"}
    document = _ask(HTTPConnection("127.0.0.1", port), "POST", "/v1/trials", document=trial)[1]
    return f"/v1/trials/{document['id']}"


def _update(port: int, path: str, times: int) -> Counter[int]:
    connection = HTTPConnection("127.0.0.1", port, timeout=120)
    statuses: Counter[int] = Counter()
    while statuses[200] < times:
        _, document = _ask(connection, "GET", path)
        version = {"If-Match": f'"{document["kept"]["version"]}"'}
        title = {"title": str(int(document["title"]) + 1)}
        statuses[_ask(connection, "PATCH", path, document=title, headers=PATCH | version)[0]] += 1
    connection.close()
    return statuses


def _ask(connection: HTTPConnection, method: str, path: str, *, document=None, headers=None):
    """Status and document of an answer."""
    body = None if document is None else json.dumps(document)
    connection.request(method, path, body, headers or {"Content-Type": "application/json"})
    answer = connection.getresponse()
    content = json.loads(answer.read())
    if method != "PATCH":
        connection.close()
    return answer.status, content


def main() -> int:
    """Print the counts; 1 where any update is lost."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.two_servers")
    parser.add_argument("--updates", type=int, default=6000)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="assay-two-") as folder:
        place = Path(folder)
        starter = Forked(place / "log")
        try:
            count, version, statuses = counted(f"sqlite:///{place / 'kept.sqlite3'}", starter, asked.updates)
        finally:
            starter.close()
    lost = statuses[200] - count
    print(f"updates: {statuses[200]}, stale: {statuses[412]}, other answers: {_other(statuses)}")
    print(f"lost: {lost}; the trial is at version {version}")
    return bool(lost or version != count + 1 or _other(statuses))


def _other(statuses: Counter[int]) -> dict[int, int]:
    return {status: count for status, count in statuses.items() if status not in {200, 412}}


if __name__ == "__main__":
    sys.exit(main())
