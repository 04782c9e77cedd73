"""960 000 readings in every form, read and checked, against libraries that read the same and check nothing.

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
from openpyxl import Workbook
from workload import say, seconds

from service.intake import Marks, read_batch
from service.intake.media_types import JSON, NDJSON, XLSX
from service.settings import Limits

CSV_BAR, JSON_BAR, NDJSON_BAR, MEMORY_BAR_MB = 5.0, 3.0, 3.5, 600.0
XLSX_BAR_SECONDS = 60.0
"""Half of the time that one analysis has."""
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


def as_json_lines() -> bytes:
    """The readings as a JSON object a line."""
    return rows().astype({"rf_channel": str}).to_json(orient="records", lines=True).encode()


def as_workbook() -> bytes:
    """The readings as a workbook with one sheet."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet("readings")
    sheet.append(HEADING)
    for row in rows().itertuples(index=False, name=None):
        sheet.append(row)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def read(body: bytes, media_type: str) -> None:
    """Read and check a batch."""
    trial = None if media_type == JSON else METER
    read_batch(body, media_type, trial=trial, marks=Marks(), limits=Limits())


def pandas_does_it(body: bytes) -> None:
    """Default types, then the mean over RF channels of the mean reading on each."""
    table = pd.read_csv(io.BytesIO(body))
    table.groupby(["element", "round", "rf_channel"])["value"].mean().groupby(level=[0, 1]).mean()


def memory_while_reading(body: bytes, media_type: str) -> float:
    """The largest memory of a process of its own that reads the body once, in MB."""
    code = f"import sys, intake_speed, workload; intake_speed.read(sys.stdin.buffer.read(), {media_type!r}); "
    code += "print(workload.peak_megabytes())"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, input=body, cwd=FOLDER, capture_output=True, check=True)
    return float(done.stdout)


def main() -> None:
    """Print the ratios and the memory."""
    body = as_csv()
    ratio = seconds(partial(read, body, "text/csv"), repeats=3) / seconds(
        partial(pandas_does_it, body), repeats=3
    )
    say("960 000 rows of CSV read and checked / pandas to scores", ratio, CSV_BAR)
    say("memory while reading them", memory_while_reading(body, "text/csv"), MEMORY_BAR_MB, unit="MB")
    body = as_json()
    ratio = seconds(partial(read, body, JSON), repeats=3) / seconds(partial(json.loads, body), repeats=3)
    say("the same as JSON / json.loads", ratio, JSON_BAR)
    loads = seconds(partial(json.loads, body), repeats=3)
    body = as_json_lines()
    say(
        "the same as NDJSON / json.loads", seconds(partial(read, body, NDJSON), repeats=3) / loads, NDJSON_BAR
    )
    body = as_workbook()
    say("the same as XLSX", seconds(partial(read, body, XLSX), repeats=1), XLSX_BAR_SECONDS, unit="s")
    say("memory while reading it", memory_while_reading(body, XLSX), MEMORY_BAR_MB, unit="MB")


if __name__ == "__main__":
    main()
