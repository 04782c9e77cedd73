"""Servers that are killed: started on one port again and again, and watched until they are gone."""

import json
import os
import random
import signal
import socket
import subprocess
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from tests.waiting import until

ROOT = Path(__file__).parents[2]
THREADS = 17  # its place in /proc/PID/stat behind the name (proc(5))
CLIENTS_NEVER = range(10_000, 32_000)
TOKENS = "where needed"


def free_port() -> int:
    """A port of the loopback address that nobody listens on now.

    It is none of those that clients are given: where nobody listens on such a one, a client that tries again
    and again is connected to itself in the end, and holds the port.
    """
    for port in random.sample(CLIENTS_NEVER, 100):
        with suppress(OSError), socket.create_server(("127.0.0.1", port)):
            return port
    raise OSError("none of 100 ports is free")


def lives(process: int) -> bool:
    """Whether there is a process of that number that has not ended, with all its threads.

    The first thread may be gone while others are still on their way out and hold the files and the socket.
    """
    try:
        fields = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
    except (FileNotFoundError, ProcessLookupError):
        return False
    return fields[0] != "Z" or int(fields[THREADS]) > 1


@dataclass(frozen=True)
class Server:
    """A server process at a port."""

    process: int
    port: int

    def listens(self) -> bool:
        """Whether it takes connections. Raises RuntimeError where it has ended."""
        if not lives(self.process):
            raise RuntimeError(f"the server {self.process} ended by itself")
        with suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
            return True
        return False

    def wait(self) -> "Server":
        """Wait until it takes connections."""
        until(self.listens, what="the server does not listen")
        return self

    def kill(self) -> None:
        """End it as kill -9 does, and wait until it and the workers it had are gone."""
        family = [self.process, *children_of(self.process)]
        os.kill(self.process, signal.SIGKILL)
        until(lambda: not any(map(lives, family)), what=f"some of {family} live on")


def children_of(process: int) -> list[int]:
    """The processes that it started, and those that these started."""
    found = []
    for task in Path(f"/proc/{process}/task").glob("*/children"):
        with suppress(OSError):
            found += [int(child) for child in task.read_text().split()]
    return found + [grandchild for child in found for grandchild in children_of(child)]


class Starter(Protocol):
    """What starts servers."""

    def start(self, database: str, port: int, *, tokens: str = TOKENS) -> Server:
        """A server that has just begun to start; tokens as in the settings."""

    def close(self) -> None:
        """End what lives still, and what started it."""


class Forked:
    """Starts servers without worker processes by forking, see `serving`. `log` takes what they say."""

    def __init__(self, log: Path):
        self._servers: list[Server] = []
        with log.open("ab") as said:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "tests.faults.serving"],
                cwd=ROOT, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=said,
            )  # fmt: skip

    def start(self, database: str, port: int, *, tokens: str = TOKENS) -> Server:
        """A server that has just begun to start."""
        self._process.stdin.write(json.dumps({"database": database, "port": port, "tokens": tokens}) + "\n")
        self._process.stdin.flush()
        self._servers.append(Server(int(self._process.stdout.readline()), port))
        return self._servers[-1]

    def close(self) -> None:
        """End the last server, if it lives, and the process that they were forked from."""
        if self._servers and lives(self._servers[-1].process):
            self._servers[-1].kill()
        self._process.communicate()


class Commanded:
    """Starts servers by the command `aerial-assay serve`, each with one worker process."""

    def __init__(self, log: Path):
        self._log = log
        self._started: list[subprocess.Popen[bytes]] = []

    def start(self, database: str, port: int, *, tokens: str = TOKENS) -> Server:
        """A server that has just begun to start."""
        command = ["-m", "service", "serve", "--port", str(port), "--workers", "1"]
        environment = {**os.environ, "AERIAL_ASSAY_DATABASE": database, "AERIAL_ASSAY_TOKENS": tokens}
        with self._log.open("ab") as said:
            started = subprocess.Popen(
                [sys.executable, *command], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=said
            )
        self._started.append(started)
        return Server(started.pid, port)

    def close(self) -> None:
        """End the last server, if it lives, and take note of the ends of all."""
        for started in self._started:
            if lives(started.pid):
                Server(started.pid, 0).kill()
            started.wait()
