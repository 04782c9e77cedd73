"""A real cluster: a scheduler and workers in processes of their own, started by Dask's own commands."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.waiting import until

ROOT = Path(__file__).parents[2]


@contextmanager
def command(name: str, *arguments: str) -> Iterator[subprocess.Popen]:
    """One of Dask's commands, with all that it starts killed at the end."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "DASK_DISTRIBUTED__DASHBOARD__LINK": ""}
    started = subprocess.Popen(
        [sys.executable, "-m", "dask", name, *arguments],
        env=environment,
        cwd="/tmp",  # noqa: S108 (a folder without a package of this project's name)
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        yield started
    finally:
        os.killpg(started.pid, signal.SIGKILL)
        started.wait()


def address_in(file: Path) -> str:
    """Where the scheduler listens, once it has said so."""
    until(lambda: file.exists() and file.read_text().strip().endswith("}"))
    return json.loads(file.read_text())["address"]


@contextmanager
def scheduler(folder: Path) -> Iterator[str]:
    """A scheduler's address."""
    file = folder / "scheduler.json"
    where = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--no-show")
    with command("scheduler", *where, "--scheduler-file", str(file)):
        yield address_in(file)


@contextmanager
def workers(address: str, number: int, folder: Path) -> Iterator[None]:
    """So many workers of that scheduler, with one thread each."""
    options = ("--nworkers", str(number), "--nthreads", "1", "--no-dashboard")
    with command("worker", address, *options, "--local-directory", str(folder)):
        yield
