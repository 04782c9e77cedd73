"""960 000 readings in every form, read and checked, against libraries that read the same and check nothing.

python tests/benchmarks/intake_speed.py
"""

import io
import json
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import numpy as np
import pandas as pd
from openpyxl import Workbook

from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.intake.media_types import JSON, NDJSON, XLSX
from service.settings import Limits
from tests.benchmarks.figures import Figure, in_turn, seconds, show

CSV_BAR, JSON_BAR, NDJSON_BAR, MEMORY_BAR_MB = 5.0, 3.0, 3.5, 600.0
XLSX_BAR_SECONDS = 60.0
"""Half of the time that one analysis has."""
ELEMENTS, ROUNDS, CHANNELS = 8, 200, 600
HEADING = ["element", "round", "channel", "rf_channel", "value"]
ROOT = Path(__file__).parents[2]
CSV, TIMES = "text/csv", 3
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
    code = "import sys; from tests.benchmarks import figures, intake_speed as here; "
    code += f"here.read(sys.stdin.buffer.read(), {media_type!r}); print(figures.peak_megabytes())"
    done = subprocess.run([sys.executable, "-c", code], input=body, cwd=ROOT, capture_output=True, check=True)
    return float(done.stdout)


def figures() -> Iterator[Figure]:
    """The ratios, the workbook's time, and the memory."""
    body, json_body, lines = as_csv(), as_json(), as_json_lines()
    csv, pandas = in_turn(partial(read, body, CSV), partial(pandas_does_it, body), times=TIMES)
    work = f"{len(rows()):,} readings of CSV read and checked"
    yield Figure(work, "`pandas.read_csv`, then scores", csv / pandas, CSV_BAR)
    as_list, as_lines, loads = in_turn(
        partial(read, json_body, JSON),
        partial(read, lines, NDJSON),
        partial(json.loads, json_body),
        times=TIMES,
    )
    yield Figure("the same readings as JSON", "`json.loads`", as_list / loads, JSON_BAR)
    yield Figure("the same as NDJSON", "`json.loads` of the JSON", as_lines / loads, NDJSON_BAR)
    yield Figure(
        "peak memory while the CSV is read", "-", memory_while_reading(body, CSV), MEMORY_BAR_MB, "MB"
    )
    book = as_workbook()
    yield Figure("the same as XLSX", "-", seconds(partial(read, book, XLSX)), XLSX_BAR_SECONDS, "s")
    yield Figure("peak memory while it is read", "-", memory_while_reading(book, XLSX), MEMORY_BAR_MB, "MB")


if __name__ == "__main__":
    show(figures())
