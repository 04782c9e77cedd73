"""`aerial-assay serve` as a user starts it: a process of its own, on a free port that it names."""

import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import urllib.parse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO

ROOT = Path(__file__).parents[1]
MODULE = (sys.executable, "-m", "service")
INSTALLED = (str(Path(sys.executable).with_name("aerial-assay")),)
END_SECONDS = 60
Lines = list[dict[str, object]]


@dataclass(frozen=True)
class Running:
    """A running server: its process, what it has said (a file, since a pipe would fill up), its address."""

    process: subprocess.Popen[str]
    said: IO[str]
    url: str

    @property
    def address(self) -> tuple[str, int]:
        """Host and port."""
        parts = urllib.parse.urlsplit(self.url)
        return str(parts.hostname), int(parts.port or 0)

    def ask_to_stop(self) -> None:
        """Ask it to end as a service manager does."""
        self.process.send_signal(signal.SIGTERM)

    def ended(self) -> tuple[int, Lines]:
        """Its exit status and its log, once it has ended."""
        self.process.wait(END_SECONDS)
        self.process.stdout.close()
        with self.said as said:
            said.seek(0)
            return self.process.returncode, [json.loads(line) for line in said]

    def stop(self) -> tuple[int, Lines]:
        """Ask it to end; its exit status and what in its log is more than an answered request."""
        self.ask_to_stop()
        status, lines = self.ended()
        return status, [line for line in lines if line["message"] != "answered"]

    def kill(self) -> None:
        """End it as kill -9 does, if it has not ended yet."""
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()
        self.said.close()


def start(*arguments: str, command: Sequence[str] = MODULE, **settings: str) -> Running:
    """A server with one worker process that has said where it listens; settings are variables.

    Raises AssertionError, with what it said, where it does not start.
    """
    said = tempfile.TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115 (open until the server has ended)
    process = subprocess.Popen(
        [*command, "serve", "--port", "0", "--workers", "1", *arguments],
        cwd=ROOT, env={**os.environ, **settings}, text=True, stdout=subprocess.PIPE, stderr=said,
    )  # fmt: skip
    line = process.stdout.readline()
    found = re.fullmatch(r"Listening on (http://\S+)\n", line)
    if found:
        return Running(process, said, found[1])
    process.kill()
    process.wait()
    process.stdout.close()
    with said:
        said.seek(0)
        raise AssertionError(f"said {line!r} and {said.read()!r}")
