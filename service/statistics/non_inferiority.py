"""Is a candidate no more than the margin below its baseline? Asked after every round of one trial.

The one-sided question at alpha is answered by the lower end of the two-sided sign-flip interval at 2 alpha,
with the steps that the looks of 2 alpha allow, so that it may be asked after every round. Several candidates
share alpha by Holm's steps (see `holm`). Sources: Hartigan (1969), Using subsample values as typical values,
JASA 64, 1303-1317; for steps that stand over looks Maurer and Bretz (2013), Multiple testing in group
sequential trials using graphical approaches, Statistics in Biopharmaceutical Research 5, 311-320 (from
memory).
"""

from dataclasses import dataclass

import numpy as np

from service.statistics.bell_reference import Store, bell_reference
from service.statistics.holm import holding
from service.statistics.looks import Plan
from service.statistics.pair_statistics import is_quiet, least_reach
from service.statistics.results import NEEDS_MORE_RUNS, Floats, Rule
from service.statistics.sign_flip import flip_interval, one_sided_p

HOLDS = "holds"
FALLS_SHORT = "falls short"
_TIED = 1e-9


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


def paired_checks(differences: Floats, rule: Rule, *, store: Store) -> tuple[PairedCheck, ...]:
    """Check candidates against the baseline of the same trial, look by look.

    H0 of each candidate: mean(D) <= -margin. `holds` where its lower end, at the alpha of its step, lies
    above -margin; steps are Holm's among the k that do not hold yet. `falls short` where the upper end at
    alpha / K lies below -margin. A decision stands until a later look decides otherwise.

    differences: candidate - baseline, shape (K, R), NaN where one of the two was not run. The rule's alpha is
    one-sided, over all candidates. Raises ValueError for another shape or infinities.
    """
    if differences.ndim != 2 or np.isinf(differences).any():
        raise ValueError("differences must be finite or NaN, of shape (candidates, rounds)")
    checks = _Checks(differences, rule, store)
    outcomes, decided = _by_look(checks)
    return tuple(checks.conclude(place, outcomes[place], decided[place]) for place in range(len(differences)))


def _by_look(checks: "_Checks") -> tuple[list[str], list[int | None]]:
    count, rounds = checks.differences.shape
    outcomes = [NEEDS_MORE_RUNS] * count
    decided: list[int | None] = [None] * count
    for number in range(1, rounds + 1):
        asked = [place for place in range(count) if np.isfinite(checks.differences[place, number - 1])]
        waiting = [place for place in asked if outcomes[place] != HOLDS]
        held = checks.holding(waiting, number, open_steps=count - outcomes.count(HOLDS))
        for place in asked:
            if place in held or checks.falls_short(place, number):
                outcomes[place] = HOLDS if place in held else FALLS_SHORT
                decided[place] = number
    return outcomes, decided


class _Checks:
    """The differences of a trial and what may be said of them after a round."""

    def __init__(self, differences: Floats, rule: Rule, store: Store):
        self.differences = differences
        self.rule = rule
        self.store = store
        largest = np.nanmax(np.abs(differences), initial=1.0)
        self.tol = _TIED * float(largest)

    def holding(self, waiting: list[int], number: int, *, open_steps: int) -> set[int]:
        """The candidates that Holm's steps let hold at this look."""

        def holds_at(place: int, alpha: float) -> bool:
            low, _ = self.limits(place, number, alpha)
            return low > -self.rule.margin + self.tol

        p_values = {place: self.p_value(place, number) for place in waiting}
        return holding(p_values, holds_at, alpha=self.rule.alpha, open_steps=open_steps)

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
        look = bell_reference(2, self.differences.shape[1], plan, store=self.store).at(len(values))
        low, high = flip_interval(values, (look.order or 0) if look else 0, seed=self.rule.seed)
        if len(values) > 1:
            quiet = is_quiet(values.var(ddof=1), self.rule.floor)
            mean, least = float(values.mean()), float(least_reach(quiet, self.rule.floor))
            low, high = min(low, mean - least), max(high, mean + least)
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
