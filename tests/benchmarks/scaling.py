"""How the time of a verdict grows when there are twice as many rounds, channels or elements.

python -m tests.benchmarks.scaling

The references of both shapes of trial are known, as they are from the second verdict on.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.figures import Figure, in_turn, show
from tests.benchmarks.workload import USUAL, Size, request_body

LARGE = Size(elements=16, rounds=20, channels=120, rf_channels=40)
BARS = {"rounds": 2.3, "channels": 2.3, "elements": 4.5}
"""Pairs of elements grow fourfold."""
TIMES = 5


def figures() -> Iterator[Figure]:
    """One for each thing doubled, of a usual and of a large trial."""
    for size in (USUAL, LARGE):
        for name, bar in BARS.items():
            doubled = replace(size, **{name: 2 * getattr(size, name)})
            single, double = _times(size, doubled)
            yield Figure(f"verdict, twice the {name}", f"{size}", double / single, bar)


def _times(*sizes: Size) -> list[float]:
    with TemporaryDirectory() as folder:
        works = [
            partial(verdict_document, Batch(request_body(size), "application/json"), Limits(), Path(folder))
            for size in sizes
        ]
        return in_turn(*works, times=TIMES)


if __name__ == "__main__":
    show(figures())
