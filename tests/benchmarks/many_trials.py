"""Different trials of the usual size, handed to a runner all at once."""

from functools import partial
from pathlib import Path
from typing import Any

from service.jobs.runners import Runner
from service.jobs.running import untold
from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.workload import request_body


def batches(number: int) -> list[Batch]:
    """So many different trials."""
    return [Batch(request_body(seed=seed), "application/json") for seed in range(number)]


def judged(runner: Runner, trials: list[Batch], references: Path) -> list[dict[str, Any]]:
    """The documents of all trials, in their order."""
    limits = Limits()
    running = [
        runner.submit(
            partial(untold, partial(verdict_document, trial, limits, references)),
            seconds=limits.analysis_seconds,
        )
        for trial in trials
    ]
    return [one.result() for one in running]
