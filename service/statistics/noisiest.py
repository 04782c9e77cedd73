"""Whether one element is noisier from round to round than the others."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import fdtrc

from service.statistics.results import Floats
from service.statistics.ties import finite_array

FEWEST_ELEMENTS = 3
FEWEST_ROUNDS = 3


@dataclass(frozen=True)
class Noisiest:
    """The answer of `noisiest`: the element (index) whose noise stands out most.

    `times` is its run-to-run standard deviation `sd` over that of the others, `others_sd`; `statistic` is F,
    `p_value` adjusted for all elements.
    """

    element: int
    sd: float
    others_sd: float
    times: float
    statistic: float
    p_value: float


def noisiest(scores: ArrayLike, *, least_variance: float = 0.0) -> Noisiest | None:
    """Test whether all elements are equally noisy, against one that is noisier.

    Model: s_kr = element_k + round_r + error_kr, errors independent and normal. H0: one variance for all. For
    element k the deviation d_kr from the mean of the others has variance var_k + var / (K - 1), and is
    independent of what the others leave over among themselves, MS on (R - 1)(K - 2) degrees of freedom, so

        F = S(d_k)^2 / (MS K / (K - 1))

    has the F law on R - 1 and (R - 1)(K - 2). The largest F counts and its upper tail is multiplied by K
    (Bonferroni, an upper bound). It is Cochran's comparison of the largest variance with the rest, freed of
    the rounds' common shift. var_k is estimated by S(d_k)^2 - MS / (K - 1). Variances of the others are at
    least `least_variance`, what a meter's rounding leaves in a score.

    Two elements cannot be told apart in this: only their difference is free of the rounds. `scores` has the
    shape (K, R) and no gaps. None below three elements or three rounds, and where the others leave nothing
    over and `least_variance` is 0. Raises ValueError for another shape or values that are not finite.
    Sources: Cochran (1941), The distribution of the largest of a set of estimated variances, Annals of
    Eugenics 11, 47-52; estimator: Grubbs (1948), On estimating precision of measuring instruments and product
    variability, JASA 43, 243-264 (both from memory).
    """
    given = finite_array(scores, 2)
    elements, rounds = given.shape
    if elements < FEWEST_ELEMENTS or rounds < FEWEST_ROUNDS:
        return None
    own, others = _variances(given)
    others = np.maximum(others, least_variance)
    if not (others > 0).all():
        return None
    statistics = own / (others * elements / (elements - 1))
    best = int(np.argmax(statistics))
    tail = float(fdtrc(rounds - 1, (rounds - 1) * (elements - 2), statistics[best]))
    variance = max(0.0, float(own[best] - others[best] / (elements - 1)))
    sd, others_sd = float(np.sqrt(variance)), float(np.sqrt(others[best]))
    return Noisiest(best, sd, others_sd, sd / others_sd, float(statistics[best]), min(1.0, elements * tail))


def _variances(scores: Floats) -> tuple[Floats, Floats]:
    """S(d_k)^2 and the MS of the others, one of each an element.

    From the residuals e of the whole table: d_k - mean = e_k K / (K - 1), and leaving k out takes
    K / (K - 1) e_k^2 from the sum of squares.
    """
    elements, rounds = scores.shape
    left = scores - scores.mean(axis=0)
    left -= left.mean(axis=1, keepdims=True)
    factor = elements / (elements - 1)
    squares = np.square(left).sum(axis=1)
    rest = np.maximum(squares.sum() - factor * squares, 0.0)
    own = factor**2 * squares / (rounds - 1)
    return own, _without_dust(rest, squares.sum()) / ((rounds - 1) * (elements - 2))


def _without_dust(rest: Floats, whole: float) -> Floats:
    """Sums of squares that are a rounding error of the whole one are 0."""
    return np.where(rest <= 1e-12 * whole, 0.0, rest)
