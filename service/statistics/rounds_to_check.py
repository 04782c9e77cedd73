"""How many more rounds until a check against a baseline speaks, by continuing it with simulated rounds."""

from typing import NamedTuple

import numpy as np
from scipy.special import gammaincinv, ndtri, stdtrit

from service.statistics.bell_reference import FOLLOW_ON_DRAWS, Store, bell_reference
from service.statistics.looks import Plan, step_cells
from service.statistics.pair_statistics import is_quiet, least_reach
from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Flags, Floats, Rule
from service.statistics.rounds_needed import HALF, MOST_ROUNDS, SAFE, TRIALS, reached
from service.statistics.welch_limits import FEWEST_ROUNDS, noises_of, rounding_reach

_PAIR = 2
_SETS_APART = 1 << 20  # other rounds' streams than those of the trial's own rounds still needed


class MoreRounds(NamedTuple):
    """Rounds beyond those done at which half, and four fifths, of continued checks are decided; or None."""

    half: int | None
    safe: int | None


def rounds_to_check(differences: Floats, rule: Rule, *, candidates: int, store: Store) -> MoreRounds:
    """Continue the check of one candidate 500 times with normal rounds, each until it holds or falls short.

    differences: candidate - baseline, shape (R,), finite; `candidates` share the rule's alpha. The variance
    is drawn from its uncertainty (sum of squares over chi-square), the mean from its own; limits are
    Student's t at the share of the step that the look allows. None beyond 60 rounds in all, or without 2.
    """
    done = len(differences)
    if done < 2:
        return MoreRounds(None, None)
    plan = Plan(rule.planned, 2.0 * rule.alpha / candidates, rule.every_round)
    reference = bell_reference(_PAIR, MOST_ROUNDS, plan, store=store, draws=FOLLOW_ON_DRAWS)
    sums, squares = np.full(TRIALS, differences.sum()), np.full(TRIALS, float(differences @ differences))
    mean, sd = _continuation(differences, rule)
    decided_at = np.zeros(TRIALS, dtype=np.int64)
    for number in range(done + 1, MOST_ROUNDS + 1):
        drawn = mean + sd * _stream(rule, number).normals(TRIALS, 1)[:, 0]
        sums += drawn
        squares += drawn**2
        look = reference.at(number)
        if look and look.order:
            share = look.order / step_cells(number)
            decided = _decided(sums / number, squares, number, share=share, rule=rule)
            decided_at[(decided_at == 0) & decided] = number
    return MoreRounds(reached(decided_at, HALF, done), reached(decided_at, SAFE, done))


def rounds_through_reference(
    now: Floats, then: Floats, rule: Rule, *, floors: tuple[float, float] = (0.0, 0.0)
) -> int | None:
    """More rounds of today's trial at which the limits, as wide as today's noise makes them, would decide.

    now, then: differences to the reference, shapes (n1,) and (n0,). The difference and both variances are
    taken as they are, `floors` as in `joined_by_reference`. None below 3 rounds in either, and where 60
    rounds of today would not do, as where rounding keeps the limits as wide as they are.
    """
    if min(len(now), len(then)) < FEWEST_ROUNDS:
        return None
    distance = abs(now.mean() - then.mean() + rule.margin)
    varied, fixed = float(now.var(ddof=1)), (float(then.var(ddof=1)), len(then))
    if distance <= rounding_reach((varied, fixed[0]), floors):
        return None
    for number in range(len(now) + 1, MOST_ROUNDS + 1):
        if distance > noises_of((varied, number), fixed).reach(rule.alpha):
            return number - len(now)
    return None


def _continuation(differences: Floats, rule: Rule) -> tuple[Floats, Floats]:
    """A mean and a noise for each continued check, (TRIALS,)."""
    done = len(differences)
    start = _stream(rule, 0).uniforms(TRIALS, _PAIR)
    chi_square = 2.0 * gammaincinv((done - 1) / 2.0, start[:, 0])
    sd = np.sqrt(((differences - differences.mean()) ** 2).sum() / chi_square)
    return differences.mean() + sd * ndtri(start[:, 1]) / np.sqrt(done), sd


def _decided(mean: Floats, squares: Floats, number: int, *, share: float, rule: Rule) -> Flags:
    variance = np.maximum(squares - number * mean**2, 0.0) / (number - 1)
    reach = stdtrit(number - 1, 1.0 - share) * np.sqrt(variance / number)
    reach = np.maximum(reach, least_reach(is_quiet(variance, rule.floor), rule.floor))
    return np.asarray((mean - reach > -rule.margin) | (mean + reach < -rule.margin))


def _stream(rule: Rule, number: int) -> Stream:
    return Stream(rule.seed, Purpose.ROUNDS_NEEDED, elements=_PAIR, round_number=_SETS_APART + number)
