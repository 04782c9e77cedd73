"""How likely a planned trial is to name its winner: simulated through the verdict that will be used.

One element is ahead of all others by the same difference, readings are normal, rounds complete. The looks,
their levels, the leader's question and the decisions that stand are those of the rule; the question who leads
is decided by the bell-shaped references alone (see `leader`), so nothing is left out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from scipy.special import stdtrit

from service.statistics.bell_reference import BellReference, Store, bell_reference
from service.statistics.intervals import reach
from service.statistics.known_noise import ANOTHER_DAY, BELOW_ROUNDS, FEWEST_FREEDOM
from service.statistics.looks import Plan, step_cells
from service.statistics.pair_statistics import is_quiet, least_reach, squared_error
from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Floats, KnownNoise, Rule
from service.statistics.running_pairs import RunningFit

_TIERS = ((1_000, 8_000), (10_000, 2_000))
_LISTED_UP_TO = 10  # rounds of two elements; beyond, the means of subsets are too many for so many trials
_AT_ONCE = 2**20  # subset means worked on at once
_WIDEST = 2.0**20  # times the sd or the rounding: a difference that is not seen then is never seen
_HALVINGS = 40
_TOL = 1e-9


class Design(NamedTuple):
    """A trial to come: K elements of which some compete, rounds, rule, run-to-run sd, noise known beforehand.

    elements >= competing >= 2, rounds >= 1. sd, the rule's margin and floor, and `known` are in one unit.
    """

    elements: int
    competing: int
    rounds: int
    rule: Rule
    sd: float = 1.0
    known: KnownNoise | None = None


@dataclass(frozen=True)
class _Look:
    """Ends of the winner's intervals against the other competitors were it not ahead: (others, trials)."""

    round: int
    low: Floats
    high: Floats


@dataclass(frozen=True)
class Power:
    """The looks of simulated trials of one design; any difference is asked of the same trials."""

    design: Design
    trials: int
    looks: tuple[_Look, ...]

    @property
    def first_look(self) -> int | None:
        """The first round after which a verdict is possible; null where none is in these rounds."""
        return next((look.round for look in self.looks if np.isfinite(look.low).any()), None)

    def chances(self, difference: float) -> Floats:
        """Chance that the winner stands named after each round, (rounds,), were it so far ahead.

        A verdict stands until a later look says otherwise; `within noise` is no winner named.
        """
        margin = self.design.rule.margin
        named = np.zeros(self.trials, dtype=np.bool_)
        chances = np.zeros(self.design.rounds)
        for look, until in zip(self.looks, self._ends, strict=True):
            low, high = look.low + difference, look.high + difference
            inside = (low >= -margin - _TOL) & (high <= margin + _TOL)
            ahead = (low > _TOL) & ~inside
            named = np.where((ahead | inside).all(axis=0), ahead.all(axis=0), named)
            chances[look.round - 1 : until] = named.mean()
        return chances

    def detectable(self, chance: float) -> float | None:
        """The smallest difference that is named with this chance by the last round; null where none is."""
        # A meter so coarse that rounding outweighs the noise sets the scale itself.
        low, high = 0.0, max(self.design.sd, float(np.sqrt(self.design.rule.floor)))
        widest = _WIDEST * high
        while self._at_end(high) < chance:
            low, high = high, 2.0 * high
            if high > widest:
                return None
        for _ in range(_HALVINGS):
            middle = (low + high) / 2.0
            low, high = (low, middle) if self._at_end(middle) >= chance else (middle, high)
        return high

    def _at_end(self, difference: float) -> float:
        return float(self.chances(difference)[-1])

    @cached_property
    def _ends(self) -> list[int]:
        """Up to which round what a look said is the latest."""
        return [look.round - 1 for look in self.looks[1:]] + [self.design.rounds] * bool(self.looks)


def power(design: Design, *, seed: int, store: Store) -> Power:
    """Simulate the design. H0 plays no part: the chance is that of the alternative `one ahead of all others`.

    8 000 trials where pairs x rounds is at most 1 000, 2 000 to 10 000, 500 above: a chance of 0.8 has a
    standard error of 0.004, 0.009, 0.018. Two elements beyond 10 rounds: Student's t at the level of their
    step.
    """
    trials = _trials(design)
    looks = [look for look in _simulated(design, seed, store, trials=trials) if np.isfinite(look.low).any()]
    return Power(design, trials, tuple(looks))


def _trials(design: Design) -> int:
    size = design.elements * (design.elements - 1) // 2 * design.rounds
    return next((trials for most, trials in _TIERS if size <= most), 500)


def _plan(design: Design) -> Plan:
    """The schedule; a repeatability known beforehand halves the error of all looks, as in the rule."""
    rule = design.rule
    return Plan(rule.planned, rule.alpha / 2.0 if design.known else rule.alpha, rule.every_round)


def _simulated(design: Design, seed: int, store: Store, *, trials: int) -> Iterator[_Look]:
    plan = _plan(design)
    reference = bell_reference(design.elements, design.rounds, plan, store=store)
    running = RunningFit(design.elements, trials)
    everyone = np.ones(design.elements, dtype=np.bool_)
    values: list[Floats] = []
    for number in range(1, design.rounds + 1):
        stream = Stream(seed, Purpose.POWER, elements=design.elements, round_number=number)
        values.append(design.sd * stream.normals(trials, design.elements).T)
        running.add(values[-1], everyone)
        if number < BELOW_ROUNDS:
            yield from _known_look(values, design)
        elif design.elements == 2:
            differences = np.array([made[0] - made[1] for made in values]).T
            yield _two(differences, reference, design.rule.floor)
        elif plan.is_look(design.elements, number):
            yield _more(running, number, reference, design)


def _more(running: RunningFit, number: int, reference: BellReference, design: Design) -> _Look:
    """Three or more elements: the leader's critical value times the standard error."""
    look = reference.at(number)
    critical = np.inf if look is None or look.leader_critical is None else look.leader_critical
    difference, error = running.differences_and_errors(floor=design.rule.floor)
    others = slice(0, design.competing - 1)  # pairs of the first element come first
    ends = reach(difference[others], error[others], np.array(critical))
    return _Look(number, difference[others] - ends, difference[others] + ends)


def _two(differences: Floats, reference: BellReference, floor: float) -> _Look:
    """Two elements: means of subsets, as in the rule; differences (trials, rounds)."""
    rounds = differences.shape[1]
    look = reference.at(rounds)
    order = (look.order or 0) if look else 0
    mean, variance = differences.mean(axis=1), differences.var(axis=1, ddof=1)
    if not order:
        low, high = np.full_like(mean, -np.inf), np.full_like(mean, np.inf)
    elif rounds <= _LISTED_UP_TO:
        low, high = _subset_ends(differences, order)
    else:
        critical = float(stdtrit(rounds - 1, 1.0 - order / step_cells(rounds)))
        ends = critical * np.sqrt(variance / rounds)
        low, high = mean - ends, mean + ends
    least = least_reach(is_quiet(variance, floor), floor)
    return _Look(rounds, np.minimum(low, mean - least)[None, :], np.maximum(high, mean + least)[None, :])


def _subset_ends(differences: Floats, order: int) -> tuple[Floats, Floats]:
    """The order-th smallest and largest mean of a non-empty subset of each trial's differences."""
    trials, rounds = differences.shape
    sizes = np.zeros(1)
    for _ in range(rounds):
        sizes = np.concatenate([sizes, sizes + 1.0])
    low, high = np.empty(trials), np.empty(trials)
    chunk = max(1, _AT_ONCE // 2**rounds)
    for start in range(0, trials, chunk):
        here = slice(start, start + chunk)
        sums = np.zeros((len(differences[here]), 1))
        for column in differences[here].T:
            sums = np.concatenate([sums, sums + column[:, None]], axis=1)
        means = sums[:, 1:] / sizes[1:]
        means.partition([order - 1, means.shape[1] - order], axis=1)
        low[here], high[here] = means[:, order - 1], means[:, -order]
    return low, high


def _known_look(values: list[Floats], design: Design) -> Iterator[_Look]:
    """The look after one or two rounds by a known noise; none where too little is known of it."""
    known = design.known
    if known is None or known.degrees_of_freedom < FEWEST_FREEDOM:
        return
    rounds, others = len(values), slice(1, design.competing)
    mean = np.mean(values, axis=0)
    squares, freedom = known.sd**2 * known.degrees_of_freedom, float(known.degrees_of_freedom)
    if rounds > 1:
        change = values[1] - values[0]
        squares = squares + ((change - change.mean(axis=0)) ** 2).sum(axis=0) / 2.0
        freedom += design.elements - 1
    sd = ANOTHER_DAY * np.sqrt(squares / freedom)
    variance = np.maximum(2.0 * sd**2, design.rule.floor)
    error = np.sqrt(squared_error(variance, np.array(2.0 / rounds), floor=design.rule.floor))
    ends = float(stdtrit(freedom, 1.0 - design.rule.alpha / 4.0)) * error
    difference = mean[0] - mean[others]
    yield _Look(rounds, difference - ends, difference + ends)
