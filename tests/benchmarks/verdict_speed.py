"""A whole verdict document against scipy's own permutation test and bootstrap on the same scores, in one run.

8 elements x 6 rounds x 36 channels on 24 RF channels. Warm: the references of this shape of trial are known.
Unseen: they are computed too.

python -m tests.benchmarks.verdict_speed
"""

from collections.abc import Iterator
from functools import partial
from itertools import combinations
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from scipy.stats import bootstrap, permutation_test

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits
from tests.benchmarks.figures import Figure, in_turn, show
from tests.benchmarks.workload import USUAL, readings, request_body

WARM_BAR, UNSEEN_BAR = 1.5, 3.5
SHUFFLES, RESAMPLES, TIMES = 19_999, 9_999, 15
ELEMENTS, ROUNDS, RF_CHANNELS = USUAL.elements, USUAL.rounds, USUAL.rf_channels
FIRST, SECOND = np.array(list(combinations(range(ELEMENTS), 2))).T
BATCH = 200  # the fastest of 100 to 2 000


def scores() -> np.ndarray:
    """Mean over RF channels of the mean reading on each, (elements, rounds)."""
    cells: dict[tuple[str, int, int], list[float]] = {}
    for row in readings():
        rf_channel = int(row["channel"].removeprefix("c")) % RF_CHANNELS
        cells.setdefault((row["element"], row["round"] - 1, rf_channel), []).append(row["value"])
    table = np.zeros((ELEMENTS, ROUNDS))
    for (element, r, _), values in cells.items():
        table[int(element.removeprefix("e")), r] += np.mean(values) / RF_CHANNELS
    return table


def largest_statistic(*rounds: np.ndarray, axis: int) -> np.ndarray:
    """The largest |difference| / se of all pairs; se from the larger of pooled and own variance."""
    assert axis == -1
    table = np.stack(rounds, axis=-1)
    centred = table - table.mean(axis=-2, keepdims=True)
    residuals = centred - centred.mean(axis=-1, keepdims=True)
    freedom = (ELEMENTS - 1) * (ROUNDS - 1)
    pooled = 2 * np.square(residuals).sum(axis=(-2, -1)) / freedom
    differences = centred[..., FIRST, :] - centred[..., SECOND, :]
    spread = np.sqrt(np.maximum(differences.var(axis=-1, ddof=1), pooled[..., None]) / ROUNDS)
    return (np.abs(differences.mean(axis=-1)) / spread).max(axis=-1)


def scipy_does_it(table: np.ndarray) -> None:
    """The largest statistic under 19 999 shuffles within rounds, and 28 percentile intervals in one call."""
    permutation_test(
        tuple(table.T), largest_statistic, permutation_type="pairings", vectorized=True, axis=-1,
        n_resamples=SHUFFLES, batch=BATCH, alternative="greater", rng=np.random.default_rng(1),
    )  # fmt: skip
    differences = table[FIRST] - table[SECOND]
    bootstrap(
        (differences,), np.mean, axis=-1, method="percentile", n_resamples=RESAMPLES,
        rng=np.random.default_rng(1),
    )  # fmt: skip


def unseen(batch: Batch, folder: Path) -> None:
    """A verdict that finds neither memory nor folder of references."""
    with TemporaryDirectory(dir=folder) as empty:
        verdict_document(batch, Limits(), Path(empty))


def figures() -> Iterator[Figure]:
    """Both ratios."""
    batch, table = Batch(request_body(), "application/json"), scores()
    with TemporaryDirectory() as folder:
        warm, cold, peer = in_turn(
            partial(verdict_document, batch, Limits(), Path(folder)),
            partial(unseen, batch, Path(folder)),
            partial(scipy_does_it, table),
            times=TIMES,
        )
    against = f"scipy `permutation_test` ({SHUFFLES:,}) and `bootstrap` (28 pairs, {RESAMPLES:,})"
    yield Figure(f"verdict in process, {USUAL}", against, warm / peer, WARM_BAR)
    yield Figure("the same, of a shape of trial not seen before", "the same", cold / peer, UNSEEN_BAR)


if __name__ == "__main__":
    show(figures())
