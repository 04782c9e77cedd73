"""Differences, standard errors and T of every pair, by least squares over elements and rounds.

Two-way layout without interaction, possibly incomplete: Scheffe (1959), The Analysis of Variance, ch. 4.
"""

import itertools
from types import SimpleNamespace

import numpy as np


def all_pairs(elements):
    """(0, 1), (0, 2), ..., (1, 2), ... of the given elements."""
    return list(itertools.combinations(elements, 2))


def fewer_runs(table, i, j):
    """Runs held by the one of two elements that holds fewer."""
    return int(min(np.sum(~np.isnan(table[i])), np.sum(~np.isnan(table[j]))))


def shared_rounds(table, i, j):
    """Rounds that hold both elements."""
    return int(np.sum(~np.isnan(table[i] - table[j])))


def design_of(present):
    """One row a run held, a column an element, then a column a round; with the pseudo-inverse and the df."""
    elements, rounds = np.nonzero(present)
    matrix = np.zeros((len(elements), sum(present.shape)))
    matrix[np.arange(len(elements)), elements] = 1.0
    matrix[np.arange(len(elements)), present.shape[0] + rounds] = 1.0
    inverse = np.linalg.pinv(matrix)
    df = len(elements) - int(np.linalg.matrix_rank(matrix))
    return SimpleNamespace(elements=elements, rounds=rounds, matrix=matrix, inverse=inverse, df=df)


def effects_and_residuals(tables):
    """Element effects (draws, K), residuals (draws, runs) and the design; the same runs held in all draws."""
    design = design_of(~np.isnan(tables[0]))
    runs = tables[:, design.elements, design.rounds]
    coefficients = runs @ design.inverse.T
    return coefficients[:, : tables.shape[1]], runs - coefficients @ design.matrix.T, design


def pair_statistics(tables, floor=0.0, tol=0.0):
    """difference, se and T, each (draws, pairs), of tables (draws, K, R) with NaN where no run is held."""
    effects, residuals, design = effects_and_residuals(tables)
    held = ~np.isnan(tables[0])
    pooled = 2.0 * np.sum(residuals**2, axis=1) / design.df
    columns = []
    for i, j in all_pairs(range(tables.shape[1])):
        both = held[i] & held[j]
        variance = np.maximum(pooled, floor)
        if both.sum() >= 2:
            own = np.var(tables[:, i, both] - tables[:, j, both], axis=1, ddof=1)
            variance = np.maximum(variance, own)
        factor = np.sum((design.inverse[i] - design.inverse[j]) ** 2)
        difference = effects[:, i] - effects[:, j]
        columns.append(_statistic(difference, variance, factor, floor=floor, tol=tol))
    return SimpleNamespace(
        difference=np.column_stack([c[0] for c in columns]),
        se=np.column_stack([c[1] for c in columns]),
        t=np.column_stack([c[2] for c in columns]),
        df=design.df,
    )


def _statistic(difference, variance, factor, *, floor, tol):
    """Rounding of a quiet meter is the same in every round: there se^2 does not fall below the floor."""
    squared = variance * factor / 2.0
    quiet = variance <= 1.5 * floor * (1.0 + 1e-9)
    squared = np.where(quiet, np.maximum(squared, floor), squared)
    se = np.sqrt(squared)
    se = np.where(se <= tol, 0.0, se)
    difference = np.where(np.abs(difference) <= tol, 0.0, difference)
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.where(difference == 0.0, 0.0, np.abs(difference) / se)
    return difference, se, t
