"""How many more rounds until a check against a baseline speaks, by continuing it with simulated rounds."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaincinv, ndtri
from scipy.stats import t as student

from service.statistics.bell_reference import FOLLOW_ON_DRAWS, bell_reference
from service.statistics.looks import Plan, step_cells
from service.statistics.non_inferiority import CheckRule
from service.statistics.pair_statistics import NEAR_FLOOR
from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Flags, Floats
from service.statistics.welch_limits import FEWEST_ROUNDS

TRIALS = 500
MOST_ROUNDS = 60
HALF, SAFE = 0.5, 0.8
_PAIR = 2
_SETS_APART = 1 << 20  # other rounds' streams than those of the trial's own rounds still needed


class MoreRounds(NamedTuple):
    """Rounds beyond those done at which half, and four fifths, of continued checks are decided; or None."""

    half: int | None
    safe: int | None


def rounds_to_check(differences: Floats, rule: CheckRule, *, candidates: int) -> MoreRounds:
    """Continue the check of one candidate 500 times with normal rounds, each until it holds or falls short.

    differences: candidate - baseline, shape (R,), R >= 2, finite; `candidates` share alpha. The variance is
    drawn from its uncertainty (sum of squares over chi-square), the mean from its own; limits are Student's
    t at the share of the step that the look allows. None beyond 60 rounds in all, or without 2 rounds.
    """
    done = len(differences)
    if done < 2:
        return MoreRounds(None, None)
    plan = Plan(rule.planned, 2.0 * rule.alpha / candidates, rule.every_round)
    reference = bell_reference(_PAIR, MOST_ROUNDS, plan, store=rule.store, draws=FOLLOW_ON_DRAWS)
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
    return MoreRounds(_reached(decided_at, HALF, done), _reached(decided_at, SAFE, done))


def rounds_through_reference(now: Floats, then: Floats, rule: CheckRule) -> int | None:
    """More rounds of today's trial at which the limits, as wide as today's noise makes them, would decide.

    now, then: differences to the reference, shapes (n1,) and (n0,). The difference and both variances are
    taken as they are; None below 3 rounds in either, and where 60 rounds of today would not do.
    """
    if min(len(now), len(then)) < FEWEST_ROUNDS:
        return None
    fixed = then.var(ddof=1) / len(then)
    distance = abs(now.mean() - then.mean() + rule.margin)
    for number in range(len(now) + 1, MOST_ROUNDS + 1):
        varied = now.var(ddof=1) / number
        total = varied + fixed
        freedom = total**2 / (varied**2 / (number - 1) + fixed**2 / (len(then) - 1)) if total else 1.0
        if distance > student.ppf(1.0 - rule.alpha, freedom) * np.sqrt(total):
            return number - len(now)
    return None


def _continuation(differences: Floats, rule: CheckRule) -> tuple[Floats, Floats]:
    """A mean and a noise for each continued check, (TRIALS,)."""
    done = len(differences)
    start = _stream(rule, 0).uniforms(TRIALS, _PAIR)
    chi_square = 2.0 * gammaincinv((done - 1) / 2.0, start[:, 0])
    sd = np.sqrt(((differences - differences.mean()) ** 2).sum() / chi_square)
    return differences.mean() + sd * ndtri(start[:, 1]) / np.sqrt(done), sd


def _decided(mean: Floats, squares: Floats, number: int, *, share: float, rule: CheckRule) -> Flags:
    variance = np.maximum(squares - number * mean**2, 0.0) / (number - 1)
    reach = student.ppf(1.0 - share, number - 1) * np.sqrt(variance / number)
    reach = np.where(variance <= NEAR_FLOOR * rule.floor, np.maximum(reach, 2.0 * np.sqrt(rule.floor)), reach)
    return np.asarray((mean - reach > -rule.margin) | (mean + reach < -rule.margin))


def _stream(rule: CheckRule, number: int) -> Stream:
    return Stream(rule.seed, Purpose.ROUNDS_NEEDED, elements=_PAIR, round_number=_SETS_APART + number)


def _reached(at: NDArray[np.int64], share: float, done: int) -> int | None:
    times = np.sort(at[at > 0])
    needed = int(np.ceil(share * TRIALS))
    return int(times[needed - 1]) - done if len(times) >= needed else None
