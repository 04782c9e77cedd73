"""A CSV of 960 000 readings, read and checked, against pandas reading the same and averaging it to scores.

python tests/benchmarks/intake_speed.py
"""

import io
import json
import subprocess
import sys
from functools import partial
from pathlib import Path

import numpy as np
import pandas as pd
from workload import say, seconds

from service.intake import Marks, read_batch
from service.settings import Limits

CSV_BAR, JSON_BAR, MEMORY_BAR_MB = 5.0, 3.0, 600.0
ELEMENTS, ROUNDS, CHANNELS = 8, 200, 600
HEADING = ["element", "round", "channel", "rf_channel", "value"]
FOLDER = Path(__file__).parent
METER = {"meter": {"unit": "percent"}}


def rows() -> pd.DataFrame:
    """960 000 readings in long form."""
    k, r, c = (axis.ravel() for axis in np.indices((ELEMENTS, ROUNDS, CHANNELS)))
    columns = [
        np.char.add("e", k.astype(str)), r + 1, np.char.add("c", c.astype(str)), 21 + c % 24,
        np.random.RandomState(1).randint(20, 80, k.size),
    ]  # fmt: skip
    return pd.DataFrame(dict(zip(HEADING, columns, strict=True)))


def as_csv() -> bytes:
    """The readings as comma-separated text."""
    return rows().to_csv(index=False).encode()


def as_json() -> bytes:
    """The readings as the body of a verdict request."""
    table = rows().astype({"rf_channel": str})
    return json.dumps({"trial": METER, "readings": table.to_dict("records")}).encode()


def read(body: bytes, media_type: str) -> None:
    """Read and check a batch."""
    trial = METER if media_type == "text/csv" else None
    read_batch(body, media_type, trial=trial, marks=Marks(), limits=Limits())


def pandas_does_it(body: bytes) -> None:
    """Default types, then the mean over RF channels of the mean reading on each."""
    table = pd.read_csv(io.BytesIO(body))
    table.groupby(["element", "round", "rf_channel"])["value"].mean().groupby(level=[0, 1]).mean()


def memory_while_reading() -> float:
    """The largest memory of a process of its own that reads the CSV once, in MB."""
    code = "import sys, intake_speed, workload; intake_speed.read(sys.stdin.buffer.read(), 'text/csv'); "
    code += "print(workload.peak_megabytes())"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, input=as_csv(), cwd=FOLDER, capture_output=True, check=True)
    return float(done.stdout)


def main() -> None:
    """Print the ratios and the memory."""
    body = as_csv()
    ratio = seconds(partial(read, body, "text/csv"), repeats=3) / seconds(
        partial(pandas_does_it, body), repeats=3
    )
    say("960 000 rows of CSV read and checked / pandas to scores", ratio, CSV_BAR)
    say("memory while reading them", memory_while_reading(), MEMORY_BAR_MB, unit="MB")
    body = as_json()
    ratio = seconds(partial(read, body, "application/json"), repeats=3) / seconds(
        partial(json.loads, body), repeats=3
    )
    say("the same as JSON / json.loads", ratio, JSON_BAR)


if __name__ == "__main__":
    main()
