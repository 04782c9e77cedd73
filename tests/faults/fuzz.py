"""Every parser fed with spoilt bodies: what it does not read it must refuse, soon, and forget.

python -m tests.faults.fuzz --bodies 200000            all parsers, one after the other
python -m tests.faults.fuzz --bodies 200000 csv xlsx   these

A body that makes a parser raise anything but a refusal is a server error. It is printed, and belongs into
test_fuzz.py once it is mended. Seconds are of the processor: what else the machine does is
not counted. Memory is the resident size, taken after a tenth of the bodies and at the end.
"""

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from service.errors import ServiceError
from tests.faults.parsers import Parser, parsers

SLOW_SECONDS = 2.0
GROWTH = 1.1
MOST_KEPT = 20


@dataclass
class Came:
    """What came of the bodies of one parser."""

    name: str
    bodies: int = 0
    read: int = 0
    refused: int = 0
    slowest: float = 0.0
    slow: list[bytes] = field(default_factory=list)
    errors: dict[str, bytes] = field(default_factory=dict)
    early_bytes: int = 0
    late_bytes: int = 0

    def take(self, parser: Parser, body: bytes) -> None:
        """Feed one body."""
        began = time.process_time()
        try:
            parser.read(body)
            self.read += 1
        except ServiceError as refusal:
            self.refused += 1
            if refusal.status >= 500:
                self.errors.setdefault(repr(refusal)[:300], body)
        except Exception as error:  # noqa: BLE001 (whatever it is, it would have been a server error)
            self.errors.setdefault(_told(error), body)
        seconds = time.process_time() - began
        self.bodies += 1
        self.slowest = max(self.slowest, seconds)
        if seconds > SLOW_SECONDS:
            self.slow.append(body)

    def grew(self) -> bool:
        """Whether memory went on growing after the first tenth."""
        return self.late_bytes > GROWTH * self.early_bytes

    def wrong(self) -> bool:
        """Whether anything must not be."""
        return bool(self.errors or self.slow or self.grew())

    def __str__(self) -> str:
        memory = f"{self.early_bytes / 2**20:.0f} -> {self.late_bytes / 2**20:.0f} MiB"
        return (
            f"{self.name:15} {self.bodies:8} bodies: {self.read} read, {self.refused} refused, "
            f"{len(self.errors)} server errors, slowest {self.slowest:.2f} s, memory {memory}"
        )


def _told(error: Exception) -> str:
    """The error and where it came from, without what the body said."""
    trace, place = error.__traceback__, ""
    while trace is not None:
        code = trace.tb_frame.f_code
        place = f"{Path(code.co_filename).name}:{trace.tb_lineno} {code.co_name}"
        trace = trace.tb_next
    return f"{type(error).__name__} at {place}: {error}"[:300]


def resident() -> int:
    """The resident size of this process in bytes (proc(5))."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * 4096


def fed(parser: Parser, bodies: int, *, seed: int = 1, each: Callable[[Came], None] = lambda _: None) -> Came:
    """Feed so many spoilt bodies to a parser."""
    dice = random.Random(f"{parser.name} {seed}")
    came = Came(parser.name)
    for number in range(bodies):
        if number == bodies // 10:
            came.early_bytes = resident()
        came.take(parser, parser.spoil(dice.choice(parser.seeds), dice))
        each(came)
    came.late_bytes = resident()
    return came


def an_archive(folder: Path) -> bytes:
    """The archive of a small trial."""
    from tests.jobs.archives import Archivist

    archivist = Archivist(f"sqlite:///{folder / 'kept.sqlite3'}", folder)
    try:
        return archivist.archive()
    finally:
        archivist.server.database.close()


def main() -> int:
    """Print what came of it; 1 where anything is wrong."""
    arguments = argparse.ArgumentParser(prog="python -m tests.faults.fuzz")
    arguments.add_argument("--bodies", type=int, default=200_000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("parsers", nargs="*")
    asked = arguments.parse_args()
    with tempfile.TemporaryDirectory(prefix="assay-fuzz-") as folder:
        every = parsers((an_archive(Path(folder)),))
    wrong = False
    for parser in every:
        if asked.parsers and parser.name not in asked.parsers:
            continue
        came = fed(parser, asked.bodies, seed=asked.seed)
        print(came, flush=True)
        for error, body in list(came.errors.items())[:MOST_KEPT]:
            print(f"  {error}\n    {body[:2000]!r}", flush=True)
        wrong = wrong or came.wrong()
    return wrong


if __name__ == "__main__":
    sys.exit(main())
