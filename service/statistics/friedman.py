"""Friedman's test over rounds, with Kendall's coefficient of concordance."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from service.statistics.random_streams import Purpose
from service.statistics.round_permutations import DRAWS, can_be_enumerated, drawn_share, enumerated_share
from service.statistics.ties import doubled_midranks, finite_array, tolerance


@dataclass(frozen=True)
class Friedman:
    """The answer of `friedman`; `method` says how p was made, "exact" or the number of draws.

    All None below two elements or two rounds; `statistic` and `kendall_w` None where every round is tied
    throughout.
    """

    statistic: float | None
    p_value: float | None
    method: str | None
    kendall_w: float | None


def friedman(scores: ArrayLike, *, seed: int) -> Friedman:
    """Test whether K elements are all alike, by their ranks within each of R rounds.

    H0: within each round every order of the K scores is equally likely. With R_k the sum of ranks of
    element k and r_kr the ranks,

        Q = (K - 1) sum_k (R_k - R(K+1)/2)^2 / (sum_kr r_kr^2 - R K (K+1)^2 / 4),    W = Q / (R (K - 1)).

    Tied scores of a round have midranks; the divisor is the correction for them. p is the share of
    arrangements of the ranks within rounds with Q as large or larger: all (K!)^R where these are at most
    20 000, else 19 999 drawn ones and the observed one.

    `scores` has the shape (K, R) and no gaps. Raises ValueError for another shape or values that are not
    finite. Sources: Friedman (1937), The use of ranks to avoid the assumption of normality, JASA 32,
    675-701; ties: Hollander and Wolfe (1999), Nonparametric Statistical Methods, 2nd ed., section 7.1;
    W: Kendall and Babington Smith (1939), The problem of m rankings, Annals of Mathematical Statistics 10,
    275-287.
    """
    given = finite_array(scores, 2)
    if min(given.shape) < 2:
        return Friedman(None, None, None, None)
    ranks = doubled_midranks(given.T, tolerance(given)).T
    return _conclude(ranks, _statistic(ranks), seed=seed)


def _statistic(ranks: NDArray[np.int64]) -> float | None:
    """Q, from doubled ranks less their mean K + 1; None where there is nothing but ties."""
    centred = ranks - (ranks.shape[0] + 1)
    within = int(np.square(centred).sum())
    between = int(np.square(centred.sum(axis=1)).sum())
    return (ranks.shape[0] - 1) * between / within if within else None


def _conclude(ranks: NDArray[np.int64], statistic: float | None, *, seed: int) -> Friedman:
    elements, rounds = ranks.shape
    if statistic is None:
        return Friedman(None, 1.0, "exact", None)
    concordance = statistic / (rounds * (elements - 1))
    if can_be_enumerated(elements, rounds):
        return Friedman(statistic, enumerated_share(ranks), "exact", concordance)
    share = drawn_share(ranks, seed=seed, purpose=Purpose.SHUFFLES)
    return Friedman(statistic, share, f"{DRAWS} draws", concordance)
