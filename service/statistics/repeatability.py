"""How far two runs of one element differ when nothing was changed: the repeatability of a trial."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from service.statistics.least_squares import fit, joined
from service.statistics.results import Floats
from service.statistics.ties import tolerance

LIMIT_FACTOR = 2.8


@dataclass(frozen=True)
class Repeatability:
    """The answer of `repeatability`, in the unit of the scores.

    `sd` the repeatability standard deviation, `limit` 2.8 times that: two runs of one element differ by more
    about once in twenty. `icc` is None with one element, or where nothing varies.
    """

    sd: float
    limit: float
    degrees_of_freedom: int
    icc: float | None


@dataclass(frozen=True)
class _Parts:
    """What runs hold beyond their round's mean: from the elements, and left over; with degrees of freedom."""

    elements: Floats
    residuals: Floats
    element_df: int
    residual_df: int
    runs_an_element: float


def repeatability(scores: ArrayLike) -> Repeatability | None:
    """The standard deviation of runs after element and round effects are taken out.

    Model: s_kr = element_k + round_r + error_kr, errors independent with one variance; by least squares over
    the runs held. sd^2 = residual sum of squares / (runs - rank); with one element round effects cannot be
    told from errors, and sd is the ordinary standard deviation over its rounds. None without a degree of
    freedom.

    The intraclass correlation is ICC(3,1) = (MS_element - MS_residual) / (MS_element + (n - 1) MS_residual),
    n the number of rounds; with runs missing MS_element is adjusted for rounds and n is the coefficient of
    the element variance in its expectation (Henderson's third method).

    `scores` has the shape (K, R), NaN where no run was made. What is within the tolerance of 0 is 0. There is
    no null hypothesis. Raises ValueError for another shape or infinities. Sources: ISO 5725-2:1994, 7.4, and
    ISO 5725-6 (limit; from memory); Shrout and Fleiss (1979), Intraclass correlations, Psychological
    Bulletin 86, 420-428; Searle, Casella and McCulloch (1992), Variance Components, chapter 5 (from memory).
    """
    given = _checked(scores)
    if not given.size:
        return None
    parts = _one_element(given) if given.shape[0] == 1 else _several_elements(given)
    within = tolerance(given[np.isfinite(given)])
    return _conclude(parts, within) if parts.residual_df > 0 else None


def _checked(scores: ArrayLike) -> Floats:
    """The scores without elements and rounds that have no run."""
    array = np.asarray(scores, dtype=np.float64)
    if array.ndim != 2:
        raise ValueError(f"{array.ndim} dimensions given, 2 wanted: elements, rounds")
    if np.isinf(array).any():
        raise ValueError("every score must be a finite number, or NaN where no run was made")
    held = ~np.isnan(array)
    return array[np.ix_(held.any(axis=1), held.any(axis=0))]


def _one_element(scores: Floats) -> _Parts:
    return _Parts(np.zeros_like(scores), scores - scores.mean(), 0, scores.size - 1, scores.size)


def _several_elements(scores: Floats) -> _Parts:
    """Least squares; each group of elements that share no round with another costs the elements a rank."""
    held = np.isfinite(scores)
    residuals = fit(scores).residuals
    beyond_rounds = int(held.sum()) - held.shape[1]
    rank = held.shape[0] - np.unique(joined(held)).size
    elements = scores - np.nanmean(scores, axis=0) - residuals
    return _Parts(elements[held], residuals[held], rank, beyond_rounds - rank, beyond_rounds / max(1, rank))


def _conclude(parts: _Parts, within: float) -> Repeatability:
    residual_ms = _sum_of_squares(parts.residuals, within) / parts.residual_df
    sd = float(np.sqrt(residual_ms))
    return Repeatability(sd, LIMIT_FACTOR * sd, parts.residual_df, _icc(parts, residual_ms, within))


def _icc(parts: _Parts, residual_ms: float, within: float) -> float | None:
    if not parts.element_df:
        return None
    element_ms = _sum_of_squares(parts.elements, within) / parts.element_df
    divisor = element_ms + (parts.runs_an_element - 1) * residual_ms
    return (element_ms - residual_ms) / divisor if divisor > 0 else None


def _sum_of_squares(values: Floats, within: float) -> float:
    return float(np.square(values[np.abs(values) > within]).sum())
