"""Largest pair statistic when residuals are shuffled among elements within each round."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

from service.statistics.random_streams import Purpose, Stream, word_orders
from service.statistics.results import Flags, Floats
from service.statistics.running_pairs import RunningFit, RunningPairs

ENUMERATE_UP_TO = 20_000
DRAWS = 19_999
FEWER_DRAWS = 1_999
FEWER_FROM = 10_000  # pairs x rounds above which 1 999 draws serve
_CHUNK = 500  # draws worked on at once: larger temporaries leave the cache


@dataclass(frozen=True)
class ShuffledMaximum:
    """Sorted maxima, one an arrangement, and whether these are all arrangements or drawn ones."""

    maxima: Floats
    enumerated: bool

    @property
    def arrangements(self) -> int:
        """How many arrangements stand behind the maxima."""
        return len(self.maxima)

    def critical(self, level: float) -> float:
        """The ceil((1 - level)(B + 1))-th smallest of the B maxima; infinite where that exceeds B."""
        place = critical_place(self.arrangements, level)
        return float(self.maxima[place - 1]) if place <= self.arrangements else np.inf

    def share(self, statistic: Floats) -> Floats:
        """Share (count + 1) / (B + 1) of maxima at or above each statistic (times 1 - 1e-9)."""
        below = np.searchsorted(self.maxima, np.asarray(statistic) * (1 - 1e-9), side="left")
        return (self.arrangements - below + 1) / (self.arrangements + 1)


def shuffled_maximum(residuals: Floats, *, floor: float, seed: int, tol: float = 0.0) -> ShuffledMaximum:
    """Reference for the largest T of all pairs when no element differs from another.

    H0: within each round the residuals are exchangeable among the elements present. Residuals (after
    element and round effects) are permuted within each round, independently, and T with its variances and
    floor is made anew. All arrangements where (K!)^R is at most 20 000, else 19 999 drawn ones (1 999 where
    pairs x rounds exceeds 10 000). Ties in the readings need no care: equal residuals swap. Residuals within
    tol of 0 are 0: what rounding leaves of an exactly additive table is no noise.

    residuals: (K, R), NaN where no run was made. Source: single-step maximum T, Westfall and Young (1993),
    Resampling-Based Multiple Testing; residuals shuffled after ter Braak (1992), Permutation versus
    bootstrap significance tests in multiple regression and ANOVA.
    """
    present = np.isfinite(residuals)
    chunks, enumerated = _arrangements(present, seed)
    filled = np.where(present & (np.abs(residuals) > tol), residuals, 0.0)
    maxima = [_maxima(filled, present, orders, floor=floor) for orders in chunks]
    return ShuffledMaximum(np.sort(np.concatenate(maxima)), enumerated)


def arrangement_count(elements: int, rounds: int) -> int:
    """How many arrangements complete rounds of this size give: all of them, or the number drawn."""
    everything = factorial(elements) ** rounds
    return everything if everything <= ENUMERATE_UP_TO else _draws(elements, rounds)


def critical_place(arrangements: int, level: float) -> int:
    """Which of the sorted maxima is the critical value: ceil((1 - level)(B + 1))."""
    return int(np.ceil((1.0 - level) * (arrangements + 1) - 1e-9))


def _draws(elements: int, rounds: int) -> int:
    pairs = elements * (elements - 1) // 2
    return DRAWS if pairs * rounds <= FEWER_FROM else FEWER_DRAWS


def _arrangements(present: Flags, seed: int) -> tuple[Iterator[list[NDArray[np.intp]]], bool]:
    """Chunks of orders: for every round an array (m_r, draws) of places among the present elements."""
    elements, rounds = present.shape
    if factorial(elements) ** rounds <= ENUMERATE_UP_TO:
        return _enumerated(present.sum(axis=0)), True
    return _drawn(present, seed), False


def _enumerated(sizes: NDArray[np.intp]) -> Iterator[list[NDArray[np.intp]]]:
    orders = [np.array(list(itertools.permutations(range(int(size)))), dtype=np.intp) for size in sizes]
    grid = np.indices([len(order) for order in orders]).reshape(len(orders), -1)
    yield [order[choice].T for order, choice in zip(orders, grid, strict=True)]


def _drawn(present: Flags, seed: int) -> Iterator[list[NDArray[np.intp]]]:
    elements, rounds = present.shape
    streams = [Stream(seed, Purpose.SHUFFLES, elements=elements, round_number=r + 1) for r in range(rounds)]
    draws = _draws(elements, rounds)
    for start in range(0, draws, _CHUNK):
        size = min(_CHUNK, draws - start)
        words = [stream.words(size, elements) for stream in streams]
        yield [word_orders(words[r][:, present[:, r]]).T for r in range(rounds)]


def _maxima(filled: Floats, present: Flags, orders: list[NDArray[np.intp]], *, floor: float) -> Floats:
    elements, draws = len(filled), orders[0].shape[1]
    if present.all():
        complete = RunningPairs(elements, draws)
        for column, order in zip(filled.T, orders, strict=True):
            complete.add(column[order])
        return complete.largest(floor=floor)
    running = RunningFit(elements, draws)
    for column, here, order in zip(filled.T, present.T, orders, strict=True):
        values = np.zeros((elements, draws))
        values[here] = column[here][order]
        running.add(values, here)
    return np.asarray(running.statistics(floor=floor).max(axis=0))
