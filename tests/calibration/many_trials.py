"""The rule's looks over many trials of one size at once, shuffles left out.

Shuffled references only widen the intervals of the pair table (see service.statistics.standing), so what the
bell-shaped ones leave open stays open; whoever counts errors asks the whole rule where these looks err.
`test_many_trials` holds every outcome here against the rule itself, trial by trial.
"""

from dataclasses import dataclass

import numpy as np

from service.statistics.bell_reference import MemoryStore
from service.statistics.intervals import inside_and_away, reach, tolerance
from service.statistics.known_noise import BELOW_ROUNDS
from service.statistics.least_squares import in_fit
from service.statistics.looks import FEWEST_FREEDOM, FEWEST_ROUNDS, Plan
from service.statistics.pair_look import Setting, look_at
from service.statistics.pair_statistics import NEAR_FLOOR, pair_indices
from service.statistics.running_pairs import RunningFit

STORE = MemoryStore()
OPEN, CLEAR, WITHIN = 0, 1, 2  # the three outcomes as small numbers


@dataclass(frozen=True)
class PairLooks:
    """One look at the pairs (pairs, trials); NaN where not judged. looked (pairs,): whether it is a look.

    low, high: the pair table by the bell-shaped references alone; leader_low, leader_high: who leads. error:
    standard errors, level (pairs,): of the bell-shaped reference, both NaN for two elements.
    scores (K, trials): what the leader is best of, NaN for elements not judged.
    """

    round: int
    scores: np.ndarray
    level: np.ndarray
    difference: np.ndarray
    error: np.ndarray
    low: np.ndarray
    high: np.ndarray
    leader_low: np.ndarray
    leader_high: np.ndarray
    looked: np.ndarray


@dataclass(frozen=True)
class LeaderLooks:
    """The leader (trials,), its interval against each element (K, trials), and the trial's outcome."""

    leader: np.ndarray
    low: np.ndarray
    high: np.ndarray
    outcome: np.ndarray


def outcome_codes(low, high, fixed, tol):
    """Outcome of each interval as a small number."""
    inside, away = inside_and_away(low, high, margin=fixed.margin, tol=tol)
    return np.where(inside, WITHIN, np.where(away, CLEAR, OPEN))


def follow(scores, fixed, *, present=None):
    """(PairLooks, LeaderLooks) after each round of scores (trials, K, R) from the third on.

    present (K, R): the runs that all trials hold, all unless given.
    """
    trials, elements, rounds = scores.shape
    held = np.ones((elements, rounds), dtype=bool) if present is None else present
    tol = tolerance(scores)
    setting = Setting(
        Plan(fixed.planned, fixed.alpha, fixed.every_round), fixed.floor, fixed.seed, tol, STORE
    )
    centred = scores - np.where(held, scores, 0.0).mean(axis=(1, 2), keepdims=True)
    last = np.full((len(pair_indices(elements)[0]), trials), OPEN)
    for number in range(BELOW_ROUNDS, rounds + 1):
        members = in_fit(np.where(held[:, :number], 0.0, np.nan), fewest_runs=FEWEST_ROUNDS)
        made = _pairs(centred[:, :, :number], held[:, :number], members, setting, longest=rounds)
        if made is not None:
            yield made, _leader(made, fixed, tol, last)


def _pairs(scores, held, members, setting, *, longest):
    if members.sum() < 2:
        return None
    look = _two if members.sum() == 2 else _more
    found = look(scores[:, members], held[members], setting, longest=longest)
    if found is None:
        return None
    first, second = pair_indices(len(members))
    here = members[first] & members[second]
    effects, level, *over_pairs, looked = found
    return PairLooks(
        held.shape[1],
        _placed(members, effects, np.nan),
        _placed(here, level, np.nan),
        *(_placed(here, one, np.nan) for one in over_pairs),
        _placed(here, looked, False),
    )


def _placed(here, values, empty):
    placed = np.full((len(here), *values.shape[1:]), empty)
    placed[here] = values
    return placed


def _more(scores, held, setting, *, longest):
    running = RunningFit(len(held), len(scores))
    for values, here in zip(np.moveaxis(scores, 2, 0), held.T, strict=True):
        running.add(values.T, here)
    if running.freedom < FEWEST_FREEDOM:
        return None
    difference, error = running.differences_and_errors(floor=setting.floor)
    difference = np.where(np.abs(difference) <= setting.tol, 0.0, difference)
    runs, before = held.sum(axis=1), held[:, :-1].sum(axis=1)
    fewer = np.minimum(runs[running.first], runs[running.second])
    grown = fewer > np.minimum(before[running.first], before[running.second])
    looks = [look_at(len(held), int(n), setting, longest=longest) for n in fewer]
    level, bell, lead = (
        np.array([[getattr(look, name) if look else np.inf] for look in looks], dtype=float)
        for name in ("level", "critical", "leader_critical")
    )
    ends = [reach(difference, error, np.broadcast_to(value, error.shape)) for value in (bell, lead)]
    sides = [difference + sign * end for end in ends for sign in (-1.0, 1.0)]
    looked = grown & np.isfinite(bell[:, 0])
    return _effects(running, difference), level[:, 0], difference, error, *sides, looked


def _effects(running, difference):
    """Effects up to a constant from the differences of all pairs: (K, trials)."""
    numbers = np.arange(len(running.centred))[:, None]
    return (
        ((running.first == numbers).astype(float) - (running.second == numbers)) @ difference / len(numbers)
    )


def _two(scores, held, setting, *, longest):
    both = held.all(axis=0)
    differences = (scores[:, 0] - scores[:, 1])[:, both]
    look = look_at(2, int(both.sum()), setting, longest=longest)
    mean = differences.mean(axis=1)
    mean = np.where(np.abs(mean) <= setting.tol, 0.0, mean)
    effects = np.stack([mean, np.zeros_like(mean)])
    if look is None or not look.order:
        low, high = np.full_like(mean, -np.inf), np.full_like(mean, np.inf)
    else:
        low, high = _subset_ends(differences, look.order)
        quiet = differences.var(axis=1, ddof=1) <= NEAR_FLOOR * setting.floor
        least = np.where(quiet, 2.0 * np.sqrt(setting.floor), -np.inf)
        low, high = np.minimum(low, mean - least), np.maximum(high, mean + least)
    looked = np.array([bool(look and look.order and both[-1])])
    unknown = np.full_like(mean, np.nan)
    sides = (one[None, :] for one in (mean, unknown, low, high, low, high))
    return effects, np.array([np.nan]), *sides, looked


def _subset_ends(differences, order):
    """The order-th smallest and largest mean of a non-empty subset, each (trials,); at most 16 rounds."""
    rounds = differences.shape[1]
    chosen = (np.arange(1, 2**rounds)[:, None] >> np.arange(rounds)) & 1
    weights = (chosen / chosen.sum(axis=1, keepdims=True)).T
    low, high = np.empty(len(differences)), np.empty(len(differences))
    for start in range(0, len(differences), 250):
        here = slice(start, start + 250)
        means = differences[here] @ weights
        means.partition([order - 1, means.shape[1] - order], axis=1)
        low[here], high[here] = means[:, order - 1], means[:, -order]
    return low, high


def _leader(pairs, fixed, tol, last):
    """The leader's question; last (pairs, trials) keeps what each pair's last look said of the two."""
    elements, trials = pairs.scores.shape
    codes = outcome_codes(pairs.leader_low, pairs.leader_high, fixed, tol)
    signed = np.where((codes == CLEAR) & (pairs.difference < 0), -CLEAR, codes)  # -1: the second is ahead
    last[pairs.looked] = signed[pairs.looked]
    judged = np.isfinite(pairs.scores[:, 0])
    best = np.nanmax(pairs.scores, axis=0) - tol
    leader = np.argmax(np.where(judged[:, None], pairs.scores >= best, False), axis=0)
    low, high = np.full((elements, trials), np.nan), np.full((elements, trials), np.nan)
    said, looked = np.full((elements, trials), OPEN), np.zeros((elements, trials), dtype=bool)
    places = {pair: place for place, pair in enumerate(zip(*pair_indices(elements), strict=True))}
    for (first, second), place in places.items():
        for ahead, other, sign in ((first, second, 1), (second, first, -1)):
            here = leader == ahead
            ends = sign * pairs.leader_low[place], sign * pairs.leader_high[place]
            low[other, here], high[other, here] = ends[sign < 0][here], ends[sign > 0][here]
            held = np.where(last[place] == WITHIN, WITHIN, sign * last[place])
            said[other, here] = np.where(held < 0, OPEN, held)[here]
            looked[other, here] = pairs.looked[place]
    return LeaderLooks(
        leader, low, high, _outcome(np.where(np.isfinite(low), said, OPEN), looked, judged, leader)
    )


def _outcome(said, looked, judged, leader):
    others = judged[:, None] & (np.arange(len(judged))[:, None] != leader)
    undecided = (others & (said == OPEN)).any(axis=0) | ~(others & looked).any(axis=0)
    within = (others & (said == WITHIN)).any(axis=0)
    return np.where(undecided, OPEN, np.where(within, WITHIN, CLEAR))
