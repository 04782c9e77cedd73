"""The server as it is started, with one worker process, and what it takes of the machine (proc(5))."""

import os
import re
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

COMMAND = (sys.executable, "-m", "service", "serve", "--port", "0", "--workers", "1")
ROOT = Path(__file__).parents[2]
SAMPLE_SECONDS = 0.02


@contextmanager
def server(settings: Mapping[str, str]) -> Iterator[tuple[str, int]]:
    """Its address and process; the settings are those of the environment."""
    with subprocess.Popen(
        COMMAND,
        cwd=ROOT,
        env={**os.environ, **settings},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as started:
        try:
            yield re.search(r"http://\S+", started.stdout.readline()).group(), started.pid
        finally:
            started.terminate()


def family(process: int) -> list[int]:
    """A process and those it started."""
    children = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
    return [process, *(int(child) for child in children)]


def processor_seconds(process: int) -> float:
    """What a process and those it started have taken of the processors so far (utime and stime)."""
    ticks = 0
    for member in family(process):
        fields = Path(f"/proc/{member}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def megabytes(process: int) -> float:
    """The memory of a process and those it started; what they share is counted once (Pss)."""
    return sum(_share(member) for member in family(process)) / 1024


def _share(process: int) -> int:
    told = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="ascii")
    return int(re.search(r"^Pss:\s+(\d+)", told, re.MULTILINE)[1])


class Peak(threading.Thread):
    """Looks at the memory of a process and those it started, all together, until it is left."""

    def __init__(self, process: int):
        super().__init__(daemon=True)
        self.megabytes = 0.0
        self._process = process
        self._left = threading.Event()

    def run(self) -> None:
        """Look again and again."""
        while not self._left.wait(SAMPLE_SECONDS):
            self.megabytes = max(self.megabytes, megabytes(self._process))

    def __enter__(self) -> "Peak":
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._left.set()
        self.join()
