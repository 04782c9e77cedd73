"""Pair statistics of many drawn trials at once, one round at a time; draws lie on the last axis."""

import numpy as np

from service.statistics.least_squares import information_inverse, variance_factors
from service.statistics.pair_statistics import pair_indices, ratio, squared_error
from service.statistics.results import Flags, Floats


def pair_differences(values: Floats, out: Floats | None = None) -> Floats:
    """First less second of every pair in the order of `pair_indices`: from (elements, draws), (pairs, draws).

    Element by element, since rows picked by their indices would be copied first, at several times the cost.
    """
    elements, draws = values.shape
    differences = np.empty((elements * (elements - 1) // 2, draws)) if out is None else out
    start = 0
    for element in range(elements - 1):
        end = start + elements - 1 - element
        np.subtract(values[element], values[element + 1 :], out=differences[start:end])
        start = end
    return differences


class RunningPairs:
    """Complete rounds: per pair the running sum of squares of its differences, per element its total.

    The pooled variance of a difference is the mean of the pairs' own variances, since the squared
    deviations of all pairs add up to K times the residual sum of squares.

    work: room for what is worked out on the way, shape (2, pairs, draws), which several may share in turn.
    """

    def __init__(self, elements: int, draws: int, work: Floats | None = None):
        pairs = elements * (elements - 1) // 2
        self._work = np.empty((2, pairs, draws)) if work is None else work
        self.totals = np.empty((elements, draws))
        self.squares = np.empty((pairs, draws))
        self.rounds = 0

    def begin(self) -> None:
        """Forget all rounds."""
        self.rounds = 0

    def add(self, values: Floats) -> None:
        """Add one round: values (elements, draws)."""
        differences = pair_differences(values, self._work[0] if self.rounds else self.squares)
        differences *= differences
        if self.rounds:
            self.squares += differences
            self.totals += values
        else:
            self.totals[:] = values
        self.rounds += 1

    def largest(self, *, floor: float) -> Floats:
        """The largest T of all pairs, shape (draws,)."""
        return np.asarray(np.sqrt(self.squared_statistics(floor=floor).max(axis=0)))

    def squared_statistics(self, *, floor: float) -> Floats:
        """The square of T, of every pair and draw, shape (pairs, draws), good until the next call."""
        sums = pair_differences(self.totals, self._work[0])
        sums *= sums
        variance = np.divide(sums, -self.rounds, out=self._work[1])
        variance += self.squares
        np.maximum(variance, np.zeros(variance.shape[1]), out=variance)  # numpy is slower with one number
        variance /= self.rounds - 1
        pooled = variance.mean(axis=0)
        np.maximum(variance, pooled, out=variance)
        if floor > 0:
            np.maximum(variance, floor, out=variance)
            variance = squared_error(variance, np.array(2.0 / self.rounds), floor=floor)
            variance *= self.rounds**2
        else:
            variance *= self.rounds
        if not pooled.all():
            return ratio(sums, variance)
        sums /= variance
        return sums


class RunningFit:
    """Rounds in which some elements may be missing: the same, through the least-squares fit."""

    def __init__(self, elements: int, draws: int):
        self.first, self.second = pair_indices(elements)
        self.sums = np.zeros((len(self.first), draws))
        self.squares = np.zeros((len(self.first), draws))
        self.centred = np.zeros((elements, draws))
        self.total_squares = np.zeros(draws)
        self.information = np.zeros((elements, elements))
        self.shared = np.zeros((len(self.first), 1))
        self.freedom = 1 - elements

    def add(self, values: Floats, present: Flags) -> None:
        """Add one round: values (elements, draws), of which only the present elements (elements,) count."""
        if not present.any():
            return
        both = present[self.first] & present[self.second]
        differences = pair_differences(values) * both[:, None]
        self.sums += differences
        self.squares += differences**2
        self.shared += both[:, None]
        count = int(present.sum())
        centred = (values - values[present].mean(axis=0)) * present[:, None]
        self.centred += centred
        self.total_squares += (centred**2).sum(axis=0)
        self.information += np.diag(present.astype(float)) - np.outer(present, present) / count
        self.freedom += count - 1

    def statistics(self, *, floor: float) -> Floats:
        """T of every pair and draw, shape (pairs, draws)."""
        difference, error = self.differences_and_errors(floor=floor)
        return ratio(np.abs(difference), error)

    def differences_and_errors(self, *, floor: float) -> tuple[Floats, Floats]:
        """Differences of fitted effects and their standard errors, each (pairs, draws)."""
        inverse = information_inverse(self.information)
        effects = inverse @ self.centred
        left = np.maximum(self.total_squares - (effects * self.centred).sum(axis=0), 0.0)
        variance = np.maximum(self.own_variances(), np.maximum(2.0 * left / self.freedom, floor))
        factor = variance_factors(inverse, self.first, self.second)[:, None]
        squared = squared_error(variance, factor, floor=floor)
        return pair_differences(effects), np.sqrt(squared)

    def own_variances(self) -> Floats:
        """The pairs' own variances over the rounds both hold, 0 below two, (pairs, draws)."""
        enough = self.shared > 1
        return np.where(enough, _spread(self.sums, self.squares, np.maximum(self.shared, 2.0)), 0.0)


def _spread(sums: Floats, squares: Floats, rounds: float | Floats) -> Floats:
    spread = sums * sums
    spread /= rounds
    np.subtract(squares, spread, out=spread)
    np.maximum(spread, 0.0, out=spread)
    spread /= rounds - 1
    return spread
