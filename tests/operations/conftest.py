"""The server as a user starts it: a process of its own, on a free port, with small limits."""

import json
import os
import re
import signal
import subprocess
import sys
import urllib.parse
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BODY_BYTES = 5000


@dataclass(frozen=True)
class Running:
    """A running server: its process and its address."""

    process: subprocess.Popen[str]
    url: str

    @property
    def address(self) -> tuple[str, int]:
        parts = urllib.parse.urlsplit(self.url)
        return str(parts.hostname), int(parts.port or 0)

    def ask_to_stop(self) -> None:
        """Ask it to end as a service manager does."""
        self.process.send_signal(signal.SIGTERM)

    def ended(self) -> tuple[int, list[dict[str, object]]]:
        """Its exit status and its log, once it has ended."""
        _, said = self.process.communicate(timeout=30)
        return self.process.returncode, [json.loads(line) for line in said.splitlines()]

    def stop(self) -> tuple[int, list[dict[str, object]]]:
        """Ask it to end; its exit status and what in its log is more than an answered request."""
        self.ask_to_stop()
        status, lines = self.ended()
        return status, [line for line in lines if line["message"] != "answered"]


def start(*arguments: str, **settings: str) -> Running:
    environment = {**os.environ, "AERIAL_ASSAY_BODY_BYTES": str(BODY_BYTES), **settings}
    process = subprocess.Popen(
        [sys.executable, "-m", "service", "serve", "--port", "0", "--workers", "1", *arguments],
        cwd=ROOT, env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    line = process.stdout.readline()
    found = re.fullmatch(r"Listening on (http://\S+)\n", line)
    if not found:
        process.kill()
        raise AssertionError(f"said {line!r} and {process.communicate()[1]!r}")
    return Running(process, found[1])


@pytest.fixture(scope="package")
def running():
    running = start()
    yield running
    assert running.stop() == (0, [])
