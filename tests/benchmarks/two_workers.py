"""How many more verdicts two workers give than one, of trials that have nothing to do with each other.

python -m tests.benchmarks.two_workers
"""

from collections.abc import Iterator
from contextlib import closing
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from service.jobs.pool import Pool
from tests.benchmarks.figures import Figure, in_turn, show
from tests.benchmarks.many_trials import batches, judged

BAR = 1.7
TRIALS, TIMES = 60, 5


def figures() -> Iterator[Figure]:
    """The throughput of two against one."""
    trials = batches(TRIALS)
    with (
        TemporaryDirectory() as folder,
        closing(Pool(1, waiting=TRIALS)) as one,
        closing(Pool(2, waiting=TRIALS)) as two,
    ):
        works = [partial(judged, pool, trials, Path(folder)) for pool in (one, two)]
        alone, shared = in_turn(*works, times=TIMES)
    yield Figure("verdicts a second, 2 workers", "1 worker", alone / shared, BAR, least=True)


if __name__ == "__main__":
    show(figures())
