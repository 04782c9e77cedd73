"""960 000 readings as CSV sent to a kept trial over HTTP and stored, against pandas on the same file.

python -m tests.benchmarks.stored_batch_speed

16 elements, 60 rounds, 1 000 channels; SQLite; the server as it is started, with one worker process. Beside
the time on the clock stands that of the processors: the server's body is compressed and digested beside the
reading of it. The memory is that of the server and its worker together at its highest, looked at while one
more batch is stored, what they share counted once.
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

import httpx
import numpy as np
import pandas as pd

from tests.benchmarks.figures import Figure, seconds, show
from tests.benchmarks.served import Peak, processor_seconds, server

BAR, MEMORY_BAR_MB = 5.0, 600.0
ELEMENTS, ROUNDS, CHANNELS, RF_CHANNELS = 16, 60, 1000, 40
HEADING = ["element", "round", "channel", "rf_channel", "value"]
ROWS = ELEMENTS * ROUNDS * CHANNELS
TIMES = 9


def as_csv() -> bytes:
    """960 000 readings in long form."""
    k, r, c = (axis.ravel() for axis in np.indices((ELEMENTS, ROUNDS, CHANNELS)))
    columns = [
        np.char.add("e", k.astype(str)), r + 1, np.char.add("c", c.astype(str)), 21 + c % RF_CHANNELS,
        np.random.RandomState(1).randint(20, 80, k.size),
    ]  # fmt: skip
    return pd.DataFrame(dict(zip(HEADING, columns, strict=True))).to_csv(index=False).encode()


def pandas_does_it(file: Path) -> None:
    """Default types, then scores: the mean over RF channels of the mean reading on each."""
    table = pd.read_csv(file)
    table.groupby(["element", "round", "rf_channel"])["value"].mean().groupby(level=[0, 1]).mean()


def stored(client: httpx.Client, body: bytes) -> float:
    """The seconds from sending the batch to a new trial to the answer that it is kept."""
    kept = client.post("/v1/trials", json={"meter": {"unit": "percent"}}).raise_for_status()
    path = f"{kept.headers['Location']}/readings"
    start = perf_counter()
    answer = client.post(path, content=body, headers={"Content-Type": "text/csv"})
    taken = perf_counter() - start
    if answer.status_code != 201 or answer.json()["rows"] != ROWS:
        raise SystemExit(f"not stored: {answer.text[:500]}")
    return taken


def measured(client: httpx.Client, body: bytes, *, file: Path, process: int) -> dict[str, list[float]]:
    """The seconds of both by the clock and by the processors, in turn."""
    taken: dict[str, list[float]] = {"ours": [], "theirs": [], "our work": [], "their work": []}
    for _ in range(TIMES):
        before = processor_seconds(process)
        taken["ours"].append(stored(client, body))
        taken["our work"].append(processor_seconds(process) - before)
        before = process_time()
        taken["theirs"].append(seconds(partial(pandas_does_it, file)))
        taken["their work"].append(process_time() - before)
    return taken


def figures() -> Iterator[Figure]:
    """The ratios and the memory."""
    with TemporaryDirectory() as folder:
        file, database = Path(folder) / "readings.csv", f"sqlite:///{folder}/kept.sqlite3"
        file.write_bytes(as_csv())
        body = file.read_bytes()
        with (
            server({"AERIAL_ASSAY_DATABASE": database}) as (address, process),
            httpx.Client(base_url=address, timeout=600) as client,
        ):
            stored(client, body)  # the first one loads what it needs
            pandas_does_it(file)
            taken = measured(client, body, file=file, process=process)
            with Peak(process) as peak:
                stored(client, body)
    least = {name: min(times) for name, times in taken.items()}
    work, against = f"{ROWS:,} rows of CSV sent, checked and stored", "`pandas.read_csv`, then scores"
    yield Figure(work, against, least["ours"] / least["theirs"], BAR)
    yield Figure("the same in processor time", "the same", least["our work"] / least["their work"], BAR)
    yield Figure("peak memory of server and worker together", "-", peak.megabytes, MEMORY_BAR_MB, "MB")


if __name__ == "__main__":
    show(figures())
