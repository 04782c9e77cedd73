"""Every benchmark in one run: the table in results.md, and out of it the README's table of promises.

python -m tests.benchmarks.all

Each benchmark runs in a process of its own, one after the other. Takes some minutes; wants an idle machine.
Ends with 1 where a bar is missed.
"""

import importlib.metadata
import os
import platform
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from tests.benchmarks.figures import HEADING, table_row
from tests.benchmarks.promises import write_promises

COMMAND = "python -m tests.benchmarks.all"
RESULTS = Path(__file__).with_name("results.md")
ROOT = Path(__file__).parents[2]
NAMES = (
    "verdict_speed", "http_speed", "scaling", "two_workers", "cluster_speed", "stored_batch_speed",
    "intake_speed", "report_speed", "command_start", "memory",
)  # fmt: skip
LIBRARIES = ("numpy", "scipy", "pandas", "waitress", "weasyprint", "distributed")


def rows_of(name: str) -> Iterator[str]:
    """The rows that a benchmark prints, as it prints them. Raises CalledProcessError where it fails."""
    command = [sys.executable, "-m", f"tests.benchmarks.{name}"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as running:
        yield from (line.strip() for line in running.stdout)
    if running.returncode:
        raise subprocess.CalledProcessError(running.returncode, command)


def table(rows: list[str], load: float) -> str:
    """The document: how it was made, and the rows."""
    gigabytes = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    versions = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in LIBRARIES)
    lines = [
        "# Speed and size",
        "",
        f"`{COMMAND}`, {date.today():%d %B %Y}: {os.cpu_count()} cores ({platform.machine()}), "
        f"{gigabytes:.0f} GB of memory,",
        f"Python {platform.python_version()}, {versions}; load of the machine before the run {load:.1f}.",
        "",
        "A figure without a unit is the time of the work in times that of what it is held against, both done",
        "in turn in one run; of several turns the least of each counts.",
        "",
        table_row(*HEADING),
        table_row(*["---"] * len(HEADING)),
        *rows,
    ]
    return "\n".join(lines) + "\n"


def main() -> int:
    """Print the rows as they come, then write both tables."""
    load, rows = os.getloadavg()[0], []
    for number, name in enumerate(NAMES, 1):
        print(f"{number} of {len(NAMES)}: {name}", flush=True)
        for row in rows_of(name):
            print(row, flush=True)
            rows.append(row)
    RESULTS.write_text(table(rows, load), encoding="utf-8")
    write_promises(RESULTS)
    return int(any(row.endswith("| NO |") for row in rows))


if __name__ == "__main__":
    sys.exit(main())
