"""960 000 readings as CSV sent to a kept trial over HTTP and stored, against pandas on the same file.

python tests/benchmarks/stored_batch_speed.py

16 elements, 60 rounds, 1 000 channels; SQLite; the server as it is started, with one worker process. Beside
the time on the clock stands that of the processors, which a busy machine lengthens less. The memory is the
largest that a process had; the two do not have it at the same time, and share the pages of their libraries.
"""

import os
import re
import subprocess
import sys
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

import httpx
import numpy as np
import pandas as pd
from workload import say

BAR, WANTED, MEMORY_BAR_MB = 5.0, 3.5, 600.0
ELEMENTS, ROUNDS, CHANNELS, RF_CHANNELS = 16, 60, 1000, 40
HEADING = ["element", "round", "channel", "rf_channel", "value"]
REPEATS = 3
COMMAND = [sys.executable, "-m", "service", "serve", "--port", "0", "--workers", "1"]
ROOT = Path(__file__).parents[2]


def as_csv() -> bytes:
    """960 000 readings in long form."""
    k, r, c = (axis.ravel() for axis in np.indices((ELEMENTS, ROUNDS, CHANNELS)))
    columns = [
        np.char.add("e", k.astype(str)), r + 1, np.char.add("c", c.astype(str)), 21 + c % RF_CHANNELS,
        np.random.RandomState(1).randint(20, 80, k.size),
    ]  # fmt: skip
    return pd.DataFrame(dict(zip(HEADING, columns, strict=True))).to_csv(index=False).encode()


def pandas_does_it(file: Path) -> tuple[float, float]:
    """Default types, then scores: the mean over RF channels of the mean reading on each. Its seconds by clock
    and by processor."""
    start, worked = perf_counter(), process_time()
    table = pd.read_csv(file)
    table.groupby(["element", "round", "rf_channel"])["value"].mean().groupby(level=[0, 1]).mean()
    return perf_counter() - start, process_time() - worked


def stored(client: httpx.Client, body: bytes) -> float:
    """The seconds from sending the batch to a new trial to the answer that it is kept."""
    kept = client.post("/v1/trials", json={"meter": {"unit": "percent"}}).raise_for_status()
    path = kept.headers["Location"]
    start = perf_counter()
    answer = client.post(f"{path}/readings", content=body, headers={"Content-Type": "text/csv"})
    taken = perf_counter() - start
    if answer.status_code != 201 or answer.json()["rows"] != ELEMENTS * ROUNDS * CHANNELS:
        raise SystemExit(f"not stored: {answer.text[:500]}")
    return taken


def largest_megabytes(process: int) -> float:
    """The largest resident memory that a process has had."""
    status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    return int(re.search(r"VmHWM:\s+(\d+)", status)[1]) / 1024


def processor_seconds(process: int) -> float:
    """What a process and those it started have taken of the processors so far (utime and stime, proc(5))."""
    ticks = 0
    for member in family(process):
        fields = Path(f"/proc/{member}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def family(process: int) -> list[int]:
    """A process and those it started."""
    children = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
    return [process, *(int(child) for child in children)]


def measure(folder: Path, body: bytes) -> None:
    """Print the ratio and the memory."""
    file = folder / "readings.csv"
    file.write_bytes(body)
    environment = {**os.environ, "AERIAL_ASSAY_DATABASE": f"sqlite:///{folder / 'kept.sqlite3'}"}
    with subprocess.Popen(
        COMMAND, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as server:
        address = re.search(r"http://\S+", server.stdout.readline()).group()
        with httpx.Client(base_url=address, timeout=600) as client:
            stored(client, body)  # the first one loads what it needs
            before, ours, theirs = processor_seconds(server.pid), [], []
            for _ in range(REPEATS):
                ours.append(stored(client, body))
                theirs.append(pandas_does_it(file))
        worked = (processor_seconds(server.pid) - before) / REPEATS
        peaks = sorted(largest_megabytes(process) for process in family(server.pid))
        server.terminate()
    clock, processor = (median(times) for times in zip(*theirs, strict=True))
    print(f"{len(body) / 1e6:.1f} MB, stored in {median(ours):.2f} s; pandas to scores in {clock:.2f} s")
    say(f"960 000 rows of CSV stored / pandas to scores ({WANTED:g} wanted)", median(ours) / clock, BAR)
    say("the same in time of the processors", worked / processor, BAR)
    say("memory of the larger process at its peak", peaks[-1], MEMORY_BAR_MB, unit="MB")
    print(f"memory of all its processes, each at its peak: {sum(peaks):.0f} MB")


def main() -> None:
    """Measure in a folder that is gone afterwards."""
    with TemporaryDirectory() as folder:
        measure(Path(folder), as_csv())


if __name__ == "__main__":
    main()
