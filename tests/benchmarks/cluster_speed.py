"""A Dask cluster of two workers against the pool of two, on the same 200 trials.

python -m tests.benchmarks.cluster_speed

Scheduler and workers are processes of their own on this machine, so that the cluster has no more cores than
the pool. Both must give the same documents of the first 20.
"""

import json
from collections.abc import Iterator
from contextlib import closing
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from service.jobs.cluster import Cluster
from service.jobs.pool import Pool
from service.jobs.runners import Runner
from service.jobs.verdicts import Batch
from tests.benchmarks.figures import Figure, in_turn, show
from tests.benchmarks.many_trials import batches, judged
from tests.jobs.started_cluster import scheduler, workers
from tests.waiting import until

TRIALS, COMPARED, TIMES, WORKERS = 200, 20, 2, 2


def figures() -> Iterator[Figure]:
    """The time of the cluster in times that of the pool."""
    trials = batches(TRIALS)
    with TemporaryDirectory() as folder:
        references = Path(folder) / "references"
        with (
            scheduler(Path(folder)) as address,
            workers(address, WORKERS, Path(folder)),
            closing(Pool(WORKERS, waiting=TRIALS)) as pool,
            closing(Cluster(address, working=WORKERS, waiting=TRIALS)) as cluster,
        ):
            cluster.start()
            until(cluster.ready)
            agree(pool, cluster, trials[:COMPARED], references)
            works = [partial(judged, runner, trials, references) for runner in (pool, cluster)]
            of_pool, of_cluster = in_turn(*works, times=TIMES)
    yield Figure(f"{TRIALS} verdicts by a Dask cluster of 2", "the pool of 2", of_cluster / of_pool, None)


def agree(pool: Runner, cluster: Runner, trials: list[Batch], references: Path) -> None:
    """End here where the two do not give the same bytes."""
    here, there = (judged(runner, trials, references) for runner in (pool, cluster))
    for number, (one, other) in enumerate(zip(here, there, strict=True)):
        if json.dumps(one) != json.dumps(other):
            raise SystemExit(f"Pool and cluster differ on trial {number}.")


if __name__ == "__main__":
    show(figures())
