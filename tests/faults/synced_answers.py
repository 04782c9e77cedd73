"""A trace of system calls shows that what was acknowledged was synced to the disk before the answer left.

python -m tests.faults.synced_answers --answers 200

One client posts batches, one after the other, to a server on SQLite that runs under strace. Every write to a
file of the database is followed through the trace: when an answer 201 is sent, no write to the database (or
its log of writes ahead) may be without a sync of that file behind it. To show that the trace would tell,
--setting NORMAL gives SQLite the setting that answers before the disk has it.
"""

import argparse
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path

from tests.faults import writers
from tests.faults.servers import ROOT, Server, children_of, free_port

CALLS = "pwrite64,write,fdatasync,fsync,sendto,sendmsg,ftruncate"
LINE = re.compile(r"^(?P<thread>\d+) +(?P<call>.*)$")
CALL = re.compile(r"(?P<name>\w+)\(\d+<(?P<file>[^>]*)>(?P<rest>.*)")
SERVED = """
import sys
from service.storage import engines
from tests.faults.serving import serve

prepare = engines._prepare_sqlite

def _other_setting(file, connection, record):
    prepare(file, connection, record)
    connection.execute("PRAGMA synchronous=" + sys.argv[3])

if len(sys.argv) > 3:
    engines._prepare_sqlite = _other_setting
serve(sys.argv[1], int(sys.argv[2]))
"""


@dataclass(frozen=True)
class Call:
    """A system call on a file or socket: when it was begun and done, counted in lines of the trace."""

    name: str
    file: str
    rest: str
    begun: int
    done: int


@dataclass
class Account:
    """How many answers were sent, and before which of them something was not on the disk yet."""

    answers: int = 0
    writes: int = 0
    syncs: int = 0
    unsynced: list[str] = field(default_factory=list)
    without_sync: int = 0

    def lines(self) -> list[str]:
        """The counts, as printed."""
        return [
            f"answers 201: {self.answers}; writes to the database: {self.writes}, syncs: {self.syncs}",
            f"answers with a write that no sync followed: {len(self.unsynced)}",
            f"answers without any sync since the answer before: {self.without_sync}",
        ]


def calls_of(lines: Iterable[str]) -> Iterator[Call]:
    """The calls of a trace in the order of their end; a call that another thread cut in two is joined."""
    unfinished: dict[str, tuple[int, str]] = {}
    for number, line in enumerate(lines):
        found = LINE.match(line)
        if found is None:
            continue
        thread, said, begun = found["thread"], found["call"], number
        if said.endswith("<unfinished ...>"):
            unfinished[thread] = (number, said.removesuffix("<unfinished ...>"))
            continue
        if said.startswith("<... "):
            begun, start = unfinished.pop(thread, (number, ""))
            said = start + said.split("resumed>", 1)[1]
        call = CALL.match(said)
        if call is not None:
            yield Call(call["name"], call["file"], call["rest"], begun, number)


def account_of(lines: Iterable[str], database: str) -> Account:
    """What the trace says of a database, the path of its file."""
    account, dirty, syncs_before = Account(), {}, 0
    for call in sorted(calls_of(lines), key=lambda call: call.begun if _sends(call) else call.done):
        if _is_data(call.file, database):
            _follow(call, account, dirty)
        elif _sends(call) and "HTTP/1.1 201 " in call.rest:
            account.answers += 1
            account.without_sync += account.syncs == syncs_before
            syncs_before = account.syncs
            if dirty:
                account.unsynced.append(f"answer {account.answers}: {sorted(dirty)}")
    return account


def _follow(call: Call, account: Account, dirty: dict[str, int]) -> None:
    if call.name in {"write", "pwrite64", "ftruncate"}:
        account.writes += 1
        dirty[call.file] = call.done
    elif call.rest.rstrip().endswith("= 0") and dirty.get(call.file, -1) <= call.begun:
        account.syncs += 1
        dirty.pop(call.file, None)


def _is_data(file: str, database: str) -> bool:
    """The database and its log of writes ahead; the index beside it (-shm) is made anew after a crash."""
    return file in {database, f"{database}-wal", f"{database}-journal"}


def _sends(call: Call) -> bool:
    return call.name in {"sendto", "sendmsg"}


def traced(answers: int, *, setting: str | None = None) -> Account:
    """The account of so many batches, posted one after the other to a server under strace."""
    if shutil.which("strace") is None:
        raise FileNotFoundError("strace is missing: install it (Debian: strace).")
    with tempfile.TemporaryDirectory(prefix="assay-trace-") as folder:
        place = Path(folder).resolve()
        trace, database, port = place / "trace", place / "kept.sqlite3", free_port()
        served = [sys.executable, "-c", SERVED, f"sqlite:///{database}", str(port)]
        command = ["strace", "-f", "-y", "-s", "24", "-e", f"trace={CALLS}", "-o", str(trace)]
        started = subprocess.Popen([*command, *served, *([setting] if setting else [])], cwd=ROOT)
        try:
            Server(started.pid, port).wait()
            _post(port, answers)
        finally:
            for served_process in children_of(started.pid):
                Server(served_process, port).kill()
            started.wait()  # strace ends when what it traces has ended
        with trace.open(encoding="utf-8", errors="replace") as lines:
            return account_of(lines, str(database))


def _post(port: int, answers: int) -> None:
    """Keep a trial and batches of it, so that so many answers are 201 in all."""
    connection = HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("POST", "/v1/trials", writers.TRIAL, {"Content-Type": "application/json"})
    path = connection.getresponse().headers["Location"]
    connection.close()
    for number in range(1, answers):
        body = f"element,round,channel,value\na,{number},Quay,{number % 50}\n".encode()
        headers = {"Content-Type": "text/csv", "Idempotency-Key": f"{number}"}
        connection = HTTPConnection("127.0.0.1", port, timeout=60)
        connection.request("POST", f"{path}/readings", body, headers)
        answer = connection.getresponse()
        if answer.status != 201:
            raise RuntimeError(f"{answer.status} {answer.read()!r}")
        connection.close()


def main() -> int:
    """Print the account; 1 where anything was answered too early."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.synced_answers")
    parser.add_argument("--answers", type=int, default=200)
    parser.add_argument("--setting", choices=["FULL", "NORMAL"])
    asked = parser.parse_args()
    account = traced(asked.answers, setting=asked.setting)
    print("\n".join([*account.lines(), *account.unsynced[:10]]))
    return bool(account.unsynced or account.answers != asked.answers)


if __name__ == "__main__":
    sys.exit(main())
