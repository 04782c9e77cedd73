"""Element and round effects by least squares, for complete and for incomplete rounds alike."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.statistics.results import Flags, Floats

_NULL = 1e-9  # eigenvalues so much smaller than the largest are the constant that no difference sees


@dataclass(frozen=True)
class Fit:
    """Effects and what is left.

    effects (K,): fitted score of each element at the average round, the plain mean when complete.
    residuals (K, R), NaN where no run was made. residual_ss, degrees_of_freedom = runs - rank.
    inverse (K, K): generalised inverse of the element information, for differences. runs (K,).
    """

    effects: Floats
    residuals: Floats
    residual_ss: float
    degrees_of_freedom: int
    inverse: Floats
    runs: NDArray[np.int64]


def fit(scores: Floats) -> Fit:
    """Fit score = element effect + round effect + noise.

    scores: (K, R), NaN where no run was made; all elements joined by shared rounds (else the difference of
    two elements that are not joined means nothing). Rounds with no run at all are passed over.
    Source: the intra-block analysis of incomplete blocks, Yates (1936), Annals of Eugenics 7, 121-140.
    """
    present = np.isfinite(scores)
    used = present.any(axis=0)
    counts = np.maximum(present.sum(axis=0), 1)
    filled = np.where(present, scores, 0.0)
    level = filled.sum(axis=0) / counts
    centred = np.where(present, scores - level, 0.0)
    inverse = information_inverse(information(present))
    contrast = inverse @ centred.sum(axis=1)
    left = centred - np.where(present, contrast[:, None], 0.0)
    left = np.where(present, left - left.sum(axis=0) / counts, np.nan)
    at_average = _at_average_round(scores[:, used], contrast)
    freedom = int(present.sum()) - (len(scores) + int(used.sum()) - 1)
    return Fit(at_average, left, float(np.nansum(left**2)), freedom, inverse, present.sum(axis=1))


def information(present: Flags) -> Floats:
    """Information (K, K) on element effects after round effects are taken out; present: (K, R)."""
    counts = np.maximum(present.sum(axis=0), 1)
    shared = (present / counts) @ present.T.astype(float)
    return np.asarray(np.diag(present.sum(axis=1).astype(float)) - shared)


def information_inverse(matrix: Floats) -> Floats:
    """Generalised inverse of the information; exact in form where every round is complete."""
    elements = len(matrix)
    ones = np.full((elements, elements), 1.0 / elements)
    rounds = matrix[0, 0] * elements / (elements - 1) if elements > 1 else 1.0
    if np.allclose(matrix, rounds * (np.eye(elements) - ones), rtol=0, atol=1e-9):
        return np.asarray((np.eye(elements) - ones) / max(rounds, 1.0))
    return np.asarray(np.linalg.pinv(matrix, rtol=_NULL, hermitian=True), dtype=np.float64)


def variance_factors(inverse: Floats, first: NDArray[np.intp], second: NDArray[np.intp]) -> Floats:
    """Variance of effect[first] - effect[second] in units of the noise variance; 2/R when complete."""
    diagonal = np.diag(inverse)
    return diagonal[first] + diagonal[second] - 2.0 * inverse[first, second]


def joined(present: Flags) -> NDArray[np.int64]:
    """Number of the group each element belongs to: groups share no round; present: (K, R)."""
    groups = np.arange(len(present))
    if present.all(axis=0).any():
        return np.zeros_like(groups)
    for column in present.T:
        members = np.flatnonzero(column)
        if len(members) > 1:
            groups[(groups[:, None] == groups[members]).any(axis=1)] = groups[members].min()
    return groups


def _at_average_round(scores: Floats, contrast: Floats) -> Floats:
    present = np.isfinite(scores)
    if present.all():
        return np.asarray(scores.mean(axis=1))
    without = np.where(present, scores - contrast[:, None], 0.0)
    return np.asarray(contrast + (without.sum(axis=0) / present.sum(axis=0)).mean())


def in_fit(scores: Floats, *, fewest_runs: int, competing: Flags | None = None) -> Flags:
    """Which elements can be compared: runs enough, and joined to the largest group by shared rounds.

    scores: (K, R), NaN where no run was made. competing (K,): elements that may win, by default all; a group
    counts by these, then by all it holds. Of equally large groups the one with the best mean.
    """
    present = np.isfinite(scores)
    enough = present.sum(axis=1) >= fewest_runs
    groups = np.where(enough, joined(present & enough[:, None]), -1)
    if not enough.any():
        return np.asarray(enough)
    means = np.array([scores[k, present[k]].mean() if enough[k] else -np.inf for k in range(len(scores))])
    weights = np.ones(len(scores)) if competing is None else np.where(competing, len(scores) + 1.0, 1.0)
    sizes = np.array([weights[groups == group].sum() if group >= 0 else 0.0 for group in groups])
    best = np.where(sizes == sizes.max(), means, -np.inf).argmax()
    return np.asarray(groups == groups[best])
