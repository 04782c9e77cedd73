"""The 95th percentile of a verdict over HTTP, one client, against the same work in process.

python -m tests.benchmarks.http_speed
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory

import httpx

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.figures import Figure, seconds, show
from tests.benchmarks.served import server
from tests.benchmarks.workload import USUAL, request_body

BAR = 1.5
TIMES, WARMING = 100, 5
JSON = "application/json"


def figures() -> Iterator[Figure]:
    """The slow ones over HTTP in times the middle one in process, both asked in turn."""
    body = request_body()
    with (
        TemporaryDirectory() as folder,
        server({"AERIAL_ASSAY_DATABASE": f"sqlite:///{folder}/kept.sqlite3"}) as (address, _),
        httpx.Client(base_url=address, timeout=60, headers={"Content-Type": JSON}) as client,
    ):
        here = partial(verdict_document, Batch(body, JSON), Limits(), Path(folder))
        taken = [(seconds(partial(ask, client, body)), seconds(here)) for _ in range(TIMES + WARMING)]
    over_http, in_process = zip(*taken[WARMING:], strict=True)
    slow = quantiles(over_http, n=20)[-1]
    work = f"verdict over HTTP, 95th percentile, {USUAL}"
    yield Figure(work, "in process, median", slow / median(in_process), BAR)


def ask(client: httpx.Client, body: bytes) -> None:
    """One verdict."""
    client.post("/v1/verdicts", content=body).raise_for_status()


if __name__ == "__main__":
    show(figures())
