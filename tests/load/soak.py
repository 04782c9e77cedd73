"""Writers, readers, reports and checks together against `aerial-assay serve`, then a look at what is stored.

python -m tests.load.soak --minutes 30 --write      writes results.md beside this file
"""

import argparse
import os
import platform
import sys
import tempfile
import threading
import time
from dataclasses import dataclass
from pathlib import Path

from tests.faults.servers import Commanded, free_port
from tests.faults.stored import Found, Store
from tests.faults.writers import Ledger, Trials
from tests.load.callers import Caller, TimedWriter, Times, analyses_of, checking, reading, reporting
from tests.load.sampling import Sampler, Samples

RESULTS = Path(__file__).with_name("results.md")
WRITERS = 2
PAUSE = 0.1
WARM_SHARE = 0.2
MOST_GROWTH = 1.1
COMMAND = "python -m tests.load.soak"


@dataclass
class Soaked:
    """What came of it."""

    minutes: float
    times: Times
    ledger: Ledger
    found: Found
    samples: Samples

    def growth(self) -> dict[str, tuple[float, float]]:
        """Memory in MiB and open files, after the warming up and at the end."""
        warm = WARM_SHARE * 60 * self.minutes
        early, late = self.samples.ends(self.samples.resident, warm)
        return {
            "memory, MiB": (early / 2**20, late / 2**20),
            "open files": self.samples.ends(self.samples.files, warm),
        }

    def wrong(self, *, flat: bool = True) -> list[str]:
        """Everything that must not be."""
        grown = [
            f"{name} grew from {early:.0f} to {late:.0f}"
            for name, (early, late) in self.growth().items()
            if flat and late > MOST_GROWTH * early
        ]
        return [*self.found.wrong(), *self.ledger.unforeseen, *self.times.unforeseen, *grown]

    def lines(self) -> list[str]:
        """The table and the counts, as Markdown."""
        head = [
            "| request | answered | p50, ms | p95, ms | p99, ms | slowest, ms | statuses |",
            "|---|---|---|---|---|---|---|",
        ]
        rows = [self._row(route) for route in sorted(self.times.seconds)]
        kept = [
            "",
            f"Batches sent {len(self.ledger.sent)}, acknowledged {len(self.ledger.acknowledged)}, stored "
            f"{self.found.looked_at}; repeats under the same key {self.ledger.repeats}. Lost "
            f"{len(self.found.lost)}, half stored {len(self.found.half_stored)}, stored twice "
            f"{len(self.found.stored_twice)}, other faults {len(self.wrong())}.",
            "",
            *(
                f"- {name}: {early:.0f} after the warming up, {late:.0f} at the end"
                for name, (early, late) in self.growth().items()
            ),
        ]
        return [*head, *rows, *kept]

    def _row(self, route: str) -> str:
        seconds = sorted(self.times.seconds[route])
        at = [1000 * seconds[min(len(seconds) - 1, int(share * len(seconds)))] for share in (0.5, 0.95, 0.99)]
        statuses = ", ".join(
            f"{status} x {count}" for status, count in sorted(self.times.statuses[route].items())
        )
        figures = " | ".join(f"{value:.0f}" for value in (*at, 1000 * seconds[-1]))
        return f"| `{route}` | {len(seconds)} | {figures} | {statuses} |"


def soaked(minutes: float, folder: Path) -> Soaked:
    """Let all of them ask for so long, and compare what is stored with what was acknowledged."""
    url, port = f"sqlite:///{folder / 'kept.sqlite3'}", free_port()
    starter = Commanded(folder / "log")
    stop, times, ledger, trials = threading.Event(), Times(), Ledger(), Trials()
    try:
        server = starter.start(url, port).wait()
        sampler = Sampler(server.process, stop=stop, every=min(5.0, 60 * minutes / 40))
        writers = [
            TimedWriter(number, port, trials, ledger=ledger, stop=stop, times=times, pause=PAUSE)
            for number in range(WRITERS)
        ]
        asking = (reading(ledger), reporting(ledger, analyses_of(port)), checking())
        callers = [Caller(port, each, times=times, stop=stop, pause=PAUSE) for each in asking]
        for thread in (sampler, *writers, *callers):
            thread.start()
        time.sleep(60 * minutes)
        stop.set()
        for thread in (sampler, *writers, *callers):
            thread.join()
        found = _compared(url, ledger, trials)
    finally:
        ledger.given_up.set()
        starter.close()
    return Soaked(minutes, times, ledger, found, sampler.samples)


def _compared(url: str, ledger: Ledger, trials: Trials) -> Found:
    store = Store(url)
    found = store.compare(ledger, trials.paths)
    found.keys = store.unfinished_keys()
    store.close()
    return found


def main() -> int:
    """Print what came of it, and write it if asked; 1 where anything is wrong."""
    parser = argparse.ArgumentParser(prog=COMMAND)
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--note", default="", help="What else the machine was doing.")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="assay-soak-") as folder:
        came = soaked(asked.minutes, Path(folder))
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}"
    lines = [
        "# Under load",
        "",
        f"`{COMMAND} --minutes {asked.minutes:g} --write`: {WRITERS} writers, a reader, one who analyses and",
        "reports, and one who asks for verdicts, checks and plans, against `aerial-assay serve --workers 1`",
        f"on SQLite over loopback, with {PAUSE:g} s between the requests of each. {machine}.",
        *([asked.note] if asked.note else []),
        "",
        *came.lines(),
    ]
    print("\n".join([*lines, "", *came.wrong()[:40]]))
    if asked.write:
        RESULTS.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return bool(came.wrong())


if __name__ == "__main__":
    sys.exit(main())
