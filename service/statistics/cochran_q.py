"""Cochran's Q for what was received and what was not."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from service.statistics.random_streams import Purpose
from service.statistics.results import Floats
from service.statistics.round_permutations import DRAWS, drawn_share, square_sum


@dataclass(frozen=True)
class CochranQ:
    """The answer of `cochran_q`; `method` says how p was made.

    All None below two elements or without a row; `statistic` None where every row is the same for all.
    """

    statistic: float | None
    p_value: float | None
    method: str | None


def cochran_q(received: ArrayLike, *, seed: int) -> CochranQ:
    """Test whether K elements receive equally often.

    H0: within each round the K runs, each with all it received, could be exchanged. A row is one RF channel
    in one round. With G_k the successes of element k, L_i those of row i and N of all,

        Q = (K - 1) (K sum_k G_k^2 - N^2) / (K N - sum_i L_i^2).

    Rows of one round stand or fall together with the run, so p is not the chi-square tail, nor that of
    permuted rows: whole runs are permuted among the elements within each round, 19 999 times, and the
    observed arrangement is added. Rows equal throughout change nothing.

    `received` has the shape (K, R, M): 1 received, 0 not, NaN not scanned. Rows that were not scanned with
    every element take no part. Raises ValueError for another shape or other values. Source: Cochran (1950),
    The comparison of percentages in matched samples, Biometrika 37, 256-266.
    """
    given = _checked(received)
    scanned = ~np.isnan(given).any(axis=0)
    if given.shape[0] < 2 or not scanned.any():
        return CochranQ(None, None, None)
    successes = np.where(scanned, given, 0).astype(np.int64)
    return _conclude(successes.sum(axis=2), _statistic(successes), seed=seed)


def _checked(received: ArrayLike) -> Floats:
    array = np.asarray(received, dtype=np.float64)
    if array.ndim != 3:
        raise ValueError(f"{array.ndim} dimensions given, 3 wanted: elements, rounds, RF channels")
    if not ((array == 0) | (array == 1) | np.isnan(array)).all():
        raise ValueError("every value must be 1 (received), 0 (not received) or NaN (not scanned)")
    return array


def _statistic(successes: NDArray[np.int64]) -> float | None:
    elements, total = successes.shape[0], int(successes.sum())
    between = elements * square_sum(successes.sum(axis=2)) - total**2
    within = elements * total - int(np.square(successes.sum(axis=0)).sum())
    return (elements - 1) * between / within if within else None


def _conclude(counts: NDArray[np.int64], statistic: float | None, *, seed: int) -> CochranQ:
    """p from the number each run received, shape (K, R): nothing else of Q changes with the arrangement."""
    if statistic is None:
        return CochranQ(None, 1.0, "exact")
    return CochranQ(statistic, drawn_share(counts, seed=seed, purpose=Purpose.RECEPTION), f"{DRAWS} draws")
