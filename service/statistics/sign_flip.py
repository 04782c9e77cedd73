"""Sign-flip randomisation test of paired differences, and the interval that belongs to it."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Floats

EXACT_UP_TO = 16
DRAWS = 19_999
_SPARE = 201  # empty subsets among 20 200 drawn of 17 or more differences: never as many as this
_PAIR = 2


@dataclass(frozen=True)
class SignFlip:
    """Two-sided p value, how it was made, and of how many flips."""

    p_value: float
    method: str
    flips: int


def sign_flip(differences: Floats, *, seed: int) -> SignFlip:
    """Test that paired differences are symmetric about zero.

    H0: the sign of each D_r is a fair coin, given |D_r|. Statistic |mean(D)|, two-sided. All 2^R flips to
    16 differences; beyond that 19 999 drawn flips and (count + 1) / (draws + 1). Sums within
    1e-9 sum|D| of the observed one are ties and count; zeros stay.

    differences: shape (R,), R >= 1. Source: Fisher (1935), The Design of Experiments, section 21; Box,
    Hunter and Hunter (1978), Statistics for Experimenters, p. 97-100.
    """
    return sign_flips(differences[None, :], seed=seed)[0]


def sign_flips(differences: Floats, *, seed: int) -> tuple[SignFlip, ...]:
    """The same test of several sets of differences over the same rounds: shape (sets, R); one flip of a
    drawn or listed row serves every set.
    """
    rounds = differences.shape[1]
    bounds = np.abs(differences.sum(axis=1)) - 1e-9 * np.abs(differences).sum(axis=1)
    if rounds <= EXACT_UP_TO:
        counts = [
            _count(_all_flipped_sums(row), bound) for row, bound in zip(differences, bounds, strict=True)
        ]
        return tuple(SignFlip(count / 2**rounds, "exact", 2**rounds) for count in counts)
    signs = np.where(_membership(rounds, DRAWS, seed), -1.0, 1.0)
    counts = [_count(signs @ row, bound) for row, bound in zip(differences, bounds, strict=True)]
    return tuple(SignFlip((count + 1) / (DRAWS + 1), f"{DRAWS} draws", DRAWS) for count in counts)


def one_sided_p(differences: Floats, *, seed: int) -> float:
    """The share of flips whose sum is as large as that observed, or larger; H0: the mean is 0 or less.

    All flips to 16 differences, beyond that 19 999 drawn ones with the +1 rule; ties within 1e-9 sum|D|
    count.

    differences: shape (R,), R >= 1.
    """
    rounds = len(differences)
    bound = differences.sum() - 1e-9 * np.abs(differences).sum()
    if rounds <= EXACT_UP_TO:
        return float((_all_flipped_sums(differences) >= bound).sum() / 2**rounds)
    signs = np.where(_membership(rounds, DRAWS, seed), -1.0, 1.0)
    return float(((signs @ differences >= bound).sum() + 1) / (DRAWS + 1))


def flip_interval(differences: Floats, order: int, *, seed: int) -> tuple[float, float]:
    """Ends of the interval for the mean difference: order-th smallest and largest mean of a subset.

    The 2^R - 1 means of the non-empty subsets of D cut the line into 2^R parts, each equally likely to hold
    the centre of symmetry (Hartigan 1969, Using subsample values as typical values, JASA 64, 1303-1317).
    Above 16 differences 19 999 drawn non-empty subsets stand for all. order 0: unbounded.

    differences: shape (R,). order: 0 to 2^(R-1). Returns (low, high).
    """
    if order < 1:
        return -np.inf, np.inf
    means = _subset_means(differences, seed)
    ordered = np.partition(means, [order - 1, len(means) - order])
    return float(ordered[order - 1]), float(ordered[len(means) - order])


def _count(sums: Floats, bound: float) -> int:
    return int((np.abs(sums) >= bound).sum())


def _all_flipped_sums(differences: Floats) -> Floats:
    sums = np.zeros(1)
    for difference in differences:
        sums = np.concatenate([sums + difference, sums - difference])
    return sums


def _subset_means(differences: Floats, seed: int) -> Floats:
    centre = float(differences.mean())
    offsets = differences - centre
    if len(differences) <= EXACT_UP_TO:
        sums, sizes = np.zeros(1), np.zeros(1)
        for offset in offsets:
            sums, sizes = np.concatenate([sums, sums + offset]), np.concatenate([sizes, sizes + 1.0])
        return np.asarray(centre + sums[1:] / sizes[1:])
    chosen = _membership(len(offsets), DRAWS + _SPARE, seed)
    chosen = chosen[chosen.any(axis=1)][:DRAWS]
    return np.asarray(centre + (chosen @ offsets) / chosen.sum(axis=1))


@lru_cache(maxsize=4)  # checks ask for the same draws again and again, look by look
def _membership(rounds: int, draws: int, seed: int) -> np.ndarray[tuple[int, int], np.dtype[np.bool_]]:
    columns = [
        Stream(seed, Purpose.SIGN_FLIPS, elements=_PAIR, round_number=r + 1).uniforms(draws, 1)[:, 0] < 0.5
        for r in range(rounds)
    ]
    drawn = np.stack(columns, axis=1)
    drawn.flags.writeable = False
    return drawn
