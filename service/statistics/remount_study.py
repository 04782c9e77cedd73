"""What a remount study and then one or two scans of each element would settle: rule for known noise."""

from typing import NamedTuple

import numpy as np
from scipy.special import gammaincinv, stdtrit

from service.statistics.known_noise import ANOTHER_DAY
from service.statistics.pair_statistics import squared_error
from service.statistics.power import Design
from service.statistics.random_streams import Purpose, Stream

TRIALS = 4_000


class _Study(NamedTuple):
    """The remounts beforehand, and the rounds that are judged by them."""

    remounts: int
    rounds: int


def detectable_after_remounts(
    design: Design, *, remounts: int, rounds: int, chance: float, seed: int
) -> float:
    """The smallest difference of a winner from all others that is named with this chance, in the sd's unit.

    The sd is estimated from remounts - 1 degrees of freedom and taken 1.25 times as large; the leader is held
    against Student's t at alpha / 4 to each side (see `known_noise`), as after so many rounds, 1 or 2, of one
    mounting each.
    """
    study = _Study(remounts, rounds)
    noise = Stream(seed, Purpose.POWER, elements=design.elements, round_number=0)
    drawn = noise.uniforms(TRIALS, design.elements + 1)
    freedom = remounts - 1 + (study.rounds - 1) * (design.elements - 1)
    sd = design.sd * np.sqrt(2.0 * gammaincinv(freedom / 2.0, drawn[:, -1]) / freedom)
    means = _means(design, study, seed)
    floor = design.rule.floor
    variance = np.maximum(2.0 * (ANOTHER_DAY * sd) ** 2, floor)
    error = np.sqrt(squared_error(variance, np.array(2.0 / rounds), floor=floor))
    critical = float(stdtrit(freedom, 1.0 - design.rule.alpha / 4.0))
    wanted = (critical * error - (means[0] - means[1 : design.competing])).max(axis=0)
    return float(np.sort(wanted)[int(np.ceil(chance * TRIALS)) - 1])


def _means(design: Design, study: _Study, seed: int) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Mean of each element's noise over the rounds, (K, trials)."""
    drawn = [
        Stream(seed, Purpose.POWER, elements=design.elements, round_number=number).normals(
            TRIALS, design.elements
        )
        for number in range(1, study.rounds + 1)
    ]
    return np.asarray(design.sd * np.mean(drawn, axis=0).T)
