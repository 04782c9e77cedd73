"""The memory of a process that makes verdicts.

python -m tests.benchmarks.memory
"""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.figures import Figure, peak_megabytes, show
from tests.benchmarks.workload import USUAL, request_body

BAR_MB, VERDICTS = 350.0, 5


def figures() -> Iterator[Figure]:
    """The peak."""
    batch = Batch(request_body(), "application/json")
    with TemporaryDirectory() as folder:
        for _ in range(VERDICTS):
            verdict_document(batch, Limits(), Path(folder))
    yield Figure(
        f"peak memory of a process after {VERDICTS} verdicts, {USUAL}", "-", peak_megabytes(), BAR_MB, "MB"
    )


if __name__ == "__main__":
    show(figures())
