"""The 95th percentile of a verdict over HTTP, one client, against the same work in process.

python -m tests.benchmarks.http_speed
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import quantiles
from tempfile import TemporaryDirectory

import httpx

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.figures import Figure, seconds, show
from tests.benchmarks.served import server
from tests.benchmarks.workload import USUAL, request_body

BAR = 1.5
TIMES, WARMING = 200, 5
JSON = "application/json"


def figures() -> Iterator[Figure]:
    """What a verdict takes over HTTP in times the same in process in the same turn; of many the slow ones.

    Turn by turn, since a machine shared with others is for seconds half as fast again as at other times.
    """
    body = request_body()
    with (
        TemporaryDirectory() as folder,
        server({"AERIAL_ASSAY_DATABASE": f"sqlite:///{folder}/kept.sqlite3"}) as (address, _),
        httpx.Client(base_url=address, timeout=60, headers={"Content-Type": JSON}) as client,
    ):
        over_http = partial(ask, client, body)
        in_process = partial(verdict_document, Batch(body, JSON), Limits(), Path(folder))
        ratios = [seconds(over_http) / seconds(in_process) for _ in range(TIMES + WARMING)]
    work = f"verdict over HTTP, 95th percentile, {USUAL}"
    yield Figure(work, "in process, in the same turn", quantiles(ratios[WARMING:], n=20)[-1], BAR)


def ask(client: httpx.Client, body: bytes) -> None:
    """One verdict."""
    client.post("/v1/verdicts", content=body).raise_for_status()


if __name__ == "__main__":
    show(figures())
