"""Wilcoxon's signed-rank test, exact with ties and zeros."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from service.statistics.results import Flags, Floats
from service.statistics.ties import doubled_midranks, finite_array, tolerance


@dataclass(frozen=True)
class SignedRank:
    """The answer of `signed_rank`.

    `statistic` is the sum of the ranks of the positive differences, `n` the number of differences that are
    not zero, `zeros` of those that are. `rank_biserial` is None where every difference is zero.
    """

    statistic: float
    p_value: float
    p_greater: float
    p_less: float
    method: str
    n: int
    zeros: int
    rank_biserial: float | None


def signed_rank(differences: ArrayLike) -> SignedRank:
    """Test whether paired differences lie evenly about zero, by their signs and ranks.

    H0: the signs of D_1 ... D_n are independent, P(D_r > 0) = P(D_r < 0) given |D_r|, as when the law of
    every D_r is symmetric about 0. `p_greater` is the chance under H0 of a sum of positive ranks as large or
    larger, `p_less` as small or smaller, `p_value` twice the lesser of the two and at most 1.

    `differences` has the shape (n,). Zeros are ranked with the rest and their ranks then dropped (Pratt
    1959, Remarks on zeros and ties in the Wilcoxon signed rank procedures, JASA 54, 655-667); tied
    magnitudes have midranks. The law of the sum is counted over all 2^n signs of the ranks at hand, so it
    is exact with ties too. Without differences, or with zeros only, there is one arrangement and p is 1.

    The matched-pairs rank-biserial correlation is the favourable less the unfavourable sum of ranks, over
    the sum of the ranks used (Kerby 2014, The simple difference formula, Innovative Teaching 3:1).

    Raises ValueError for another shape or values that are not finite. Source: Wilcoxon (1945), Individual
    comparisons by ranking methods, Biometrics Bulletin 1, 80-83.
    """
    given = finite_array(differences, 1)
    zero = np.abs(given) <= tolerance(given)
    ranks = doubled_midranks(np.abs(given), tolerance(given))[~zero]
    return _conclude(ranks, given[~zero] > 0, zeros=int(zero.sum()))


def rank_sum_law(ranks: NDArray[np.int64], largest: int) -> Floats:
    """The chances that the ranks with a plus sign sum to 0, 1 ... `largest`, each sign a fair coin.

    `ranks` are positive whole numbers, shape (n,); the result has the shape (largest + 1,).
    """
    law = np.zeros(largest + 1)
    law[0] = 1.0
    reach = 1
    for rank in np.sort(ranks).tolist():
        reach = min(reach + rank, largest + 1)
        part = law[:reach]
        part[rank:] += part[:-rank]
        part *= 0.5
    return law


def _conclude(ranks: NDArray[np.int64], positive: Flags, *, zeros: int) -> SignedRank:
    plus, minus = int(ranks[positive].sum()), int(ranks[~positive].sum())
    rare, common = _tails(ranks, min(plus, minus))
    return SignedRank(
        statistic=plus / 2,
        p_value=min(1.0, 2 * rare),
        p_greater=rare if plus >= minus else common,
        p_less=rare if plus <= minus else common,
        method="exact",
        n=ranks.size,
        zeros=zeros,
        rank_biserial=(plus - minus) / (plus + minus) if ranks.size else None,
    )


def _tails(ranks: NDArray[np.int64], smaller: int) -> tuple[float, float]:
    """The chances of a sum of at most, and of at least, the smaller of the two sums of ranks."""
    unit = max(1, int(np.gcd.reduce(ranks)))  # without ties all doubled ranks are even: half the work
    law = rank_sum_law(ranks // unit, smaller // unit)
    return min(1.0, float(law.sum())), min(1.0, 1.0 - float(law[:-1].sum()))
