"""How many pairs of honest runs agree in every cell: what a copied run has to stand out from."""

import numpy as np
from numpy.typing import NDArray

from service.statistics.results import Floats


def full_agreement(agreeing: NDArray[np.int64], cells: int) -> float | None:
    """Chance that two honest runs agree in every one of so many cells.

    agreeing (pairs,): in how many cells each of some pairs agrees. Cells of a run move together, so agreement
    varies from pair to pair: a beta-binomial law is fitted by its mean and variance to the pairs that do not
    agree throughout, since those that do are in question, and its chance of agreement throughout is
    answered. None where there is no such pair to learn from.
    Source: Skellam (1948), A probability distribution derived from the binomial distribution, JRSS B 10,
    257-261 (from memory).
    """
    rest = np.asarray(agreeing[agreeing < cells], dtype=np.float64)
    if not rest.size:
        return None
    share = float(rest.mean()) / cells
    return _throughout(share, _alike(rest, share, cells), cells) if share > 0 else 0.0


def _alike(rest: Floats, share: float, cells: int) -> float:
    """Correlation between the cells of a pair: 0 independent, below 1."""
    if cells == 1:
        return 0.0
    excess = float(rest.var()) / (cells * share * (1.0 - share)) - 1.0
    return float(np.clip(excess / (cells - 1), 0.0, 0.999))


def _throughout(share: float, alike: float, cells: int) -> float:
    """Product over the cells of the chance that the next agrees when all before it do."""
    before = np.arange(cells)
    return float(np.prod((share * (1.0 - alike) + before * alike) / (1.0 - alike + before * alike)))
