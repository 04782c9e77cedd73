"""One or two rounds, judged by a repeatability known from elsewhere or from repeated mountings."""

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from service.statistics.pair_statistics import pair_indices, ratio, squared_error
from service.statistics.results import Flags, Floats, KnownNoise, Repeats

FEWEST_FREEDOM = 9
ANOTHER_DAY = 1.25  # another day is seldom as quiet: the sd is taken so much larger
BELOW_ROUNDS = 3


@dataclass(frozen=True)
class PooledNoise:
    """sd of one mounting's score, larger by the allowance for another day, and its degrees of freedom."""

    sd: float
    degrees_of_freedom: float


@dataclass(frozen=True)
class KnownLook:
    """Per pair: difference, standard error, adjusted p, and whether its smaller number of mountings grew
    in the latest round (else this is no look for it); the critical values of pairs and of the leader.
    """

    difference: Floats
    standard_error: Floats
    adjusted_p: Floats
    grown: Flags
    critical: float
    leader_critical: float


def single_mountings(scores: Floats) -> Repeats:
    """Every run as one mounting; scores (K, R), NaN where no run was made."""
    element, number = np.nonzero(np.isfinite(scores))
    return Repeats(element, number, scores[element, number])


def repeated_mountings(repeats: Repeats) -> int:
    """How many mountings came beyond the first of their element in their round: degrees of freedom."""
    return len(repeats.score) - len(set(zip(repeats.element, repeats.round, strict=True)))


def pooled_noise(repeats: Repeats, known: KnownNoise | None) -> PooledNoise | None:
    """The noise to judge by, null where repeats and known together have under 9 degrees of freedom.

    Variances are pooled by their degrees of freedom: the known one, and what is left of the mountings'
    scores after element and round effects. repeats: mountings of the rounds judged.
    """
    given = known.degrees_of_freedom if known else 0.0
    if repeated_mountings(repeats) + given < FEWEST_FREEDOM or not len(repeats.score):
        return None
    squares, freedom = left_over(repeats)
    squares += known.sd**2 * given if known else 0.0
    return PooledNoise(ANOTHER_DAY * float(np.sqrt(squares / (freedom + given))), freedom + given)


def known_look(
    difference: Floats, repeats: Repeats, noise: PooledNoise, *, members: Flags, alpha: float, floor: float
) -> KnownLook:
    """Pairs by the studentised range, the leader by Student's t, each with error alpha.

    T = |difference| / (sd sqrt(1/n_i + 1/n_j)), n the numbers of mountings. H0: equal elements.
    difference: of every pair of K elements, NaN where the two share no round. members (K,): those judged.
    Source: Tukey-Kramer; Kramer (1956), Biometrics 12, 307-310. The leader is charged half of alpha on each
    side, as a pair chosen by looking. Rounding: see pair_statistics.
    """
    from scipy.stats import studentized_range

    first, second = pair_indices(len(members))
    counts = np.bincount(repeats.element, minlength=len(members)).astype(float)
    earlier = repeats.element[repeats.round < repeats.round.max()]
    before = np.bincount(earlier, minlength=len(members))
    with np.errstate(divide="ignore"):
        factor = 1.0 / counts[first] + 1.0 / counts[second]
    variance = np.full(len(first), max(2.0 * noise.sd**2, floor))
    error = np.sqrt(squared_error(variance, factor, floor=floor))
    statistic = ratio(np.abs(difference), error)
    freedom = noise.degrees_of_freedom
    elements = int(members.sum())
    return KnownLook(
        difference,
        error,
        studentized_range.sf(statistic * np.sqrt(2.0), elements, freedom),
        np.minimum(counts[first], counts[second]) > np.minimum(before[first], before[second]),
        float(studentized_range.ppf(1.0 - alpha, elements, freedom) / np.sqrt(2.0)),
        float(stdtrit(freedom, 1.0 - alpha / 2.0)),
    )


def left_over(repeats: Repeats) -> tuple[float, int]:
    """Sum of squares and freedom of single mountings' scores after element and round effects."""
    _, element = np.unique(repeats.element, return_inverse=True)
    _, number = np.unique(repeats.round, return_inverse=True)
    columns = [
        element[:, None] == np.arange(element.max() + 1),
        number[:, None] == np.arange(number.max() + 1),
    ]
    design = np.hstack(columns).astype(float)
    centred = repeats.score - repeats.score.mean()
    solution, _, rank, _ = np.linalg.lstsq(design, centred, rcond=None)
    return float(((centred - design @ solution) ** 2).sum()), len(centred) - int(rank)
