"""A body that costs little to send and would cost a careless reader much."""

from collections.abc import Callable
from dataclasses import dataclass

JSON, CSV, TSV, NDJSON, ZIP = (
    "application/json", "text/csv", "text/tab-separated-values", "application/x-ndjson", "application/zip",
)  # fmt: skip
FORM = "multipart/form-data; boundary=b"
VERDICT, TRIALS = "/v1/verdicts", "/v1/trials"
OF_TABLE = f"{VERDICT}?unit=bars"
REPLAY = f"{TRIALS}/{'0' * 32}/replay"
MILLION = 10**6


@dataclass(frozen=True)
class Bomb:
    """A body, where it is sent, and as what."""

    name: str
    body: Callable[[], bytes]
    media_type: str
    path: str = OF_TABLE
