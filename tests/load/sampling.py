"""Memory and open files of a server and of the processes it started, looked at again and again (proc(5))."""

import statistics
import threading
import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.servers import children_of

PAGE = 4096
SHARE = 0.2
"""Of all samples after the warming up, so many at the beginning are held against as many at the end."""


@dataclass
class Samples:
    """Bytes and open files, at each moment."""

    moments: list[float] = field(default_factory=list)
    resident: list[int] = field(default_factory=list)
    files: list[int] = field(default_factory=list)

    def ends(self, values: list[int], warm_seconds: float) -> tuple[float, float]:
        """The middle value soon after the warming up, and at the end."""
        warm = [value for moment, value in zip(self.moments, values, strict=True) if moment >= warm_seconds]
        many = max(1, int(SHARE * len(warm)))
        return statistics.median(warm[:many]), statistics.median(warm[-many:])


class Sampler(threading.Thread):
    """Takes a sample every `every` seconds until told to stop."""

    def __init__(self, process: int, *, stop: threading.Event, every: float):
        super().__init__(daemon=True)
        self.samples = Samples()
        self._process = process
        self._stop_asked = stop
        self._every = every

    def run(self) -> None:
        """Sample."""
        began = time.monotonic()
        while not self._stop_asked.wait(self._every):
            family = [self._process, *children_of(self._process)]
            self.samples.moments.append(time.monotonic() - began)
            self.samples.resident.append(sum(map(_resident, family)))
            self.samples.files.append(sum(map(_files, family)))


def _resident(process: int) -> int:
    with suppress(OSError):
        return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * PAGE
    return 0


def _files(process: int) -> int:
    with suppress(OSError):
        return len(list(Path(f"/proc/{process}/fd").iterdir()))
    return 0
