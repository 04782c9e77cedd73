"""Is a candidate no more than the margin below its baseline? Asked after every round of one trial.

The one-sided question at alpha is answered by the lower end of the two-sided sign-flip interval at 2 alpha,
with the steps that the looks of 2 alpha allow, so that it may be asked after every round. Several candidates
share alpha by Holm's steps. Sources: Holm (1979), A simple sequentially rejective multiple test procedure,
Scandinavian Journal of Statistics 6, 65-70; Hartigan (1969), Using subsample values as typical values, JASA
64, 1303-1317; for steps that stand over looks Maurer and Bretz (2013), Multiple testing in group sequential
trials using graphical approaches, Statistics in Biopharmaceutical Research 5, 311-320 (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from service.statistics.bell_reference import Store, bell_reference
from service.statistics.looks import Plan
from service.statistics.pair_statistics import NEAR_FLOOR
from service.statistics.results import NEEDS_MORE_RUNS, Floats
from service.statistics.sign_flip import flip_interval, one_sided_p

HOLDS = "holds"
FALLS_SHORT = "falls short"
_TIED = 1e-9


class CheckRule(NamedTuple):
    """What is fixed before the readings are seen; as in `results.Rule`. alpha: one-sided, over all."""

    planned: int
    alpha: float
    every_round: bool
    margin: float
    floor: float
    seed: int
    store: Store


@dataclass(frozen=True)
class PairedCheck:
    """One candidate against the baseline.

    `difference` candidate - baseline and its `low` and `high`, each wrong with chance 1 - `level` at most,
    over all looks and all candidates; infinite before the first look, NaN without a shared round. `p_value`
    is the one-sided sign-flip p of "the difference is -margin or less". `decided_at` is the round (1-based
    ordinal) of the latest look that decided.
    """

    outcome: str
    difference: float
    low: float
    high: float
    level: float
    p_value: float | None
    rounds: int
    decided_at: int | None


def paired_checks(differences: Floats, rule: CheckRule) -> tuple[PairedCheck, ...]:
    """Check candidates against the baseline of the same trial, look by look.

    H0 of each candidate: mean(D) <= -margin. `holds` where its lower end, at the alpha of its step, lies
    above -margin: candidates are taken by rising p, the i-th of the k that do not hold yet at
    alpha / (k - i + 1), and after the first that does not hold none does. `falls short` where the upper end
    at alpha / K lies below -margin. A decision stands until a later look decides otherwise.

    differences: candidate - baseline, shape (K, R), NaN where one of the two was not run. Raises ValueError
    for another shape or infinities.
    """
    if differences.ndim != 2 or np.isinf(differences).any():
        raise ValueError("differences must be finite or NaN, of shape (candidates, rounds)")
    checks = _Checks(differences, rule)
    outcomes, decided = _by_look(checks)
    return tuple(checks.conclude(place, outcomes[place], decided[place]) for place in range(len(differences)))


def _by_look(checks: "_Checks") -> tuple[list[str], list[int | None]]:
    count, rounds = checks.differences.shape
    outcomes = [NEEDS_MORE_RUNS] * count
    decided: list[int | None] = [None] * count
    for number in range(1, rounds + 1):
        asked = [place for place in range(count) if np.isfinite(checks.differences[place, number - 1])]
        waiting = [place for place in asked if outcomes[place] != HOLDS]
        open_steps = outcomes.count(NEEDS_MORE_RUNS) + outcomes.count(FALLS_SHORT)
        held = _holding(checks, waiting, number, open_steps)
        for place in asked:
            if place in held or checks.falls_short(place, number):
                outcomes[place] = HOLDS if place in held else FALLS_SHORT
                decided[place] = number
    return outcomes, decided


def _holding(checks: "_Checks", waiting: Sequence[int], number: int, open_steps: int) -> set[int]:
    """The candidates that Holm's steps let hold at this look."""
    held: set[int] = set()
    for place in sorted(waiting, key=lambda place: (checks.p_value(place, number), place)):
        low, _ = checks.limits(place, number, checks.rule.alpha / (open_steps - len(held)))
        if not low > -checks.rule.margin + checks.tol:
            break
        held.add(place)
    return held


class _Checks:
    """The differences of a trial and what may be said of them after a round."""

    def __init__(self, differences: Floats, rule: CheckRule):
        self.differences = differences
        self.rule = rule
        largest = np.nanmax(np.abs(differences), initial=1.0)
        self.tol = _TIED * float(largest)

    def held(self, place: int, number: int) -> Floats:
        """The differences of a candidate up to a round."""
        row = self.differences[place, :number]
        return np.asarray(row[np.isfinite(row)])

    def p_value(self, place: int, number: int) -> float:
        return one_sided_p(self.held(place, number) + self.rule.margin, seed=self.rule.seed)

    def limits(self, place: int, number: int, alpha: float) -> tuple[float, float]:
        """Ends of the interval whose each side is wrong with chance alpha at most over all looks."""
        values = self.held(place, number)
        plan = Plan(self.rule.planned, 2.0 * alpha, self.rule.every_round)
        look = bell_reference(2, self.differences.shape[1], plan, store=self.rule.store).at(len(values))
        low, high = flip_interval(values, (look.order or 0) if look else 0, seed=self.rule.seed)
        if len(values) > 1 and values.var(ddof=1) <= NEAR_FLOOR * self.rule.floor:
            reach = 2.0 * np.sqrt(self.rule.floor)
            low, high = min(low, values.mean() - reach), max(high, values.mean() + reach)
        return low, high

    def falls_short(self, place: int, number: int) -> bool:
        return self.shown(place, number)[1] < -self.rule.margin - self.tol

    def shown(self, place: int, number: int) -> tuple[float, float]:
        """The limits a reader is shown: at alpha over the number of candidates."""
        return self.limits(place, number, self.rule.alpha / len(self.differences))

    def conclude(self, place: int, outcome: str, decided_at: int | None) -> PairedCheck:
        number = self.differences.shape[1]
        values = self.held(place, number)
        low, high = self.shown(place, number) if len(values) else (np.nan, np.nan)
        return PairedCheck(
            outcome=outcome,
            difference=float(values.mean()) if len(values) else np.nan,
            low=float(low),
            high=float(high),
            level=1.0 - self.rule.alpha / len(self.differences),
            p_value=self.p_value(place, number) if len(values) else None,
            rounds=len(values),
            decided_at=decided_at,
        )
