"""Largest T over all pairs when residuals are shuffled among elements within each round.

Westfall and Young (1993), Resampling-Based Multiple Testing, ch. 2 (single-step maximum); residuals in the
place of readings: Freedman and Lane (1983), Journal of Business and Economic Statistics 1, 292-298.
"""

import itertools
import math

import numpy as np

from .plain_draws import SHUFFLES, words
from .plain_fit import all_pairs, effects_and_residuals, pair_statistics

MOST_ENUMERATED = 20_000


def residual_table(table):
    """Least-squares residuals of one table (K, R), NaN where no run is held."""
    _, residuals, design = effects_and_residuals(table[None])
    out = np.full(table.shape, np.nan)
    out[design.elements, design.rounds] = residuals[0]
    return out


def is_enumerated(elements, rounds):
    return math.factorial(elements) ** rounds <= MOST_ENUMERATED


def _every_arrangement(residuals):
    by_round = [list(itertools.permutations(column[~np.isnan(column)])) for column in residuals.T]
    arrangements = list(itertools.product(*by_round))
    out = np.full((len(arrangements), *residuals.shape), np.nan)
    for r, column in enumerate(residuals.T):
        out[:, ~np.isnan(column), r] = [arrangement[r] for arrangement in arrangements]
    return out


def _drawn_arrangements(residuals, draws, seed):
    elements = len(residuals)
    out = np.full((draws, *residuals.shape), np.nan)
    for r, column in enumerate(residuals.T):
        held = ~np.isnan(column)
        raw = words(seed, SHUFFLES, elements=elements, round_number=r + 1, shape=(draws, elements))
        order = np.argsort(raw[:, held], axis=1, kind="stable")
        out[:, held, r] = column[held][order]
    return out


def shuffled_maxima(table, *, floor, tol, seed):
    """Largest T of each arrangement of the residuals of table (K, R); variances anew in each."""
    residuals = residual_table(table)
    residuals = np.where(np.abs(residuals) <= tol, 0.0, residuals)
    rounds_held = int(np.sum(np.any(~np.isnan(table), axis=0)))
    if is_enumerated(len(table), rounds_held):
        tables = _every_arrangement(residuals)
    else:
        pairs = len(all_pairs(range(len(table))))
        tables = _drawn_arrangements(residuals, 19_999 if pairs * rounds_held <= 10_000 else 1_999, seed)
    return pair_statistics(tables, floor, tol).t.max(axis=1)


def shuffled_critical(maxima, level):
    """The ceil((1 - level)(B + 1))-th smallest of the B maxima; infinite when there are not so many."""
    place = math.ceil((1.0 - level) * (len(maxima) + 1) - 1e-9)
    return float(np.sort(maxima)[place - 1]) if place <= len(maxima) else math.inf


def shuffled_p(maxima, t):
    """(count + 1)/(B + 1): residuals do not contain the observed table."""
    return (int(np.sum(maxima >= t * (1.0 - 1e-9))) + 1) / (len(maxima) + 1)
