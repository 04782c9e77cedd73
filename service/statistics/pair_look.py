"""One look at three or more elements: every pair's interval, for the table of pairs and for the leader."""

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from service.statistics.bell_reference import BellReference, Store, bell_draws, bell_reference
from service.statistics.least_squares import Fit, fit
from service.statistics.looks import FEWEST_FREEDOM, Plan
from service.statistics.pair_statistics import PairTable, pair_table
from service.statistics.results import Flags, Floats, Look
from service.statistics.shuffled_maximum import ShuffledMaximum, shuffled_maximum


class Setting(NamedTuple):
    """What one look needs besides the scores: plan, rounding floor, seed, tolerance, kept references."""

    plan: Plan
    floor: float
    seed: int
    tol: float
    store: Store


@dataclass(frozen=True)
class PairLook:
    """Arrays over the pairs of the fitted elements; critical values are infinite where there is no look.

    fewer: the smaller number of runs of the two, at which reference, level and spending are taken.
    """

    fitted: Fit
    table: PairTable
    fewer: np.ndarray[tuple[int], np.dtype[np.int64]]
    looked: Flags
    level: Floats
    bell_critical: Floats
    leader_critical: Floats
    shuffled: ShuffledMaximum | None = None
    shuffled_critical: Floats | None = None

    @property
    def critical(self) -> Floats:
        """The critical value of the table of pairs: the larger of the two references."""
        if self.shuffled_critical is None:
            return self.bell_critical
        return np.maximum(self.bell_critical, self.shuffled_critical)


def pair_look(scores: Floats, setting: Setting, *, longest: int) -> PairLook | None:
    """The look after the rounds in scores (K, R), K >= 3, all in one fit; shuffled reference left out.

    longest: rounds of the whole trial, whose reference serves its earlier looks too. Null below 4 degrees
    of freedom.
    """
    fitted = fit(scores)
    if fitted.degrees_of_freedom < FEWEST_FREEDOM:
        return None
    table = pair_table(scores, fitted, floor=setting.floor, tol=setting.tol)
    before = np.isfinite(scores[:, :-1]).sum(axis=1)
    fewer = np.minimum(fitted.runs[table.first], fitted.runs[table.second])
    grown = fewer > np.minimum(before[table.first], before[table.second])
    looks = {int(n): look_at(len(scores), int(n), setting, longest=longest) for n in np.unique(fewer)}
    found = [looks[int(n)] or Look(int(n), 0.0, 0.0, np.inf, np.inf) for n in fewer]
    bell, leader = (
        np.array([look.critical for look in found]),
        np.array([look.leader_critical for look in found]),
    )
    level = np.array([look.level for look in found])
    return PairLook(fitted, table, fewer, grown & np.isfinite(bell), level, bell, leader)


def with_shuffles(look: PairLook, setting: Setting) -> PairLook:
    """The same look with the shuffled reference beside the bell-shaped one."""
    shuffled = shuffled_maximum(
        look.fitted.residuals, floor=setting.floor, tol=setting.tol, seed=setting.seed
    )
    levels = {float(level): shuffled.critical(float(level)) for level in np.unique(look.level)}
    critical = np.array([levels[float(level)] for level in look.level])
    return replace(look, shuffled=shuffled, shuffled_critical=critical)


def adjusted_p(look: PairLook, setting: Setting) -> Floats:
    """Per pair the largest of the three shares of maxima at or above its T: shuffled, and both patterns."""
    elements = len(look.fitted.effects)
    shares = np.zeros(len(look.fewer)) if look.shuffled is None else look.shuffled.share(look.table.statistic)
    for number in np.unique(look.fewer):
        here = look.fewer == number
        reference = bell_reference(elements, int(number), setting.plan, store=setting.store)
        shares[here] = np.maximum(shares[here], reference.share(look.table.statistic[here]))
    return shares


def look_at(elements: int, rounds: int, setting: Setting, *, longest: int) -> Look | None:
    """The look after so many rounds, from the reference of the whole trial where the draws are as many."""
    return reference_for(elements, rounds, setting, longest=longest).at(rounds)


def reference_for(elements: int, rounds: int, setting: Setting, *, longest: int) -> BellReference:
    """The reference that holds the look after so many rounds: the longest with as many draws."""
    draws = bell_draws(elements, rounds)
    span = next(r for r in range(longest, rounds - 1, -1) if bell_draws(elements, r) == draws)
    return bell_reference(elements, span, setting.plan, store=setting.store)
