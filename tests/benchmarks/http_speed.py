"""The 95th percentile of a verdict over HTTP, one client, against the same work in process.

python tests/benchmarks/http_speed.py
"""

import re
import subprocess
import sys
from functools import partial
from pathlib import Path
from statistics import quantiles
from tempfile import TemporaryDirectory
from time import perf_counter

import httpx
from workload import request_body, say, seconds

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits

BAR = 1.5
REQUESTS = 100
COMMAND = Path(sys.executable).with_name("aerial-assay")
JSON = "application/json"


def times_over_http(address: str, body: bytes) -> list[float]:
    """The times of requests sent one after the other, five warming ones not counted."""
    times = []
    with httpx.Client(base_url=address, timeout=60, headers={"Content-Type": JSON}) as client:
        for _ in range(REQUESTS + 5):
            start = perf_counter()
            client.post("/v1/verdicts", content=body).raise_for_status()
            times.append(perf_counter() - start)
    return times[5:]


def main() -> None:
    """Print the ratio."""
    body = request_body()
    with TemporaryDirectory() as folder:
        here = seconds(partial(verdict_document, Batch(body, JSON), Limits(), Path(folder)), repeats=30)
    with subprocess.Popen(
        [COMMAND, "serve", "--port", "0", "--workers", "1"],
        stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
    ) as server:  # fmt: skip
        address = re.search(r"http://\S+", server.stdout.readline()).group()
        slow = quantiles(times_over_http(address, body), n=20)[-1]
        server.terminate()
    say("verdict over HTTP, 95th percentile / in process", slow / here, BAR)


if __name__ == "__main__":
    main()
