"""How many more rounds it will take: the trial continued with simulated rounds until it is decided."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from scipy.special import gammaincinv, ndtri, stdtrit

from service.statistics.bell_reference import FOLLOW_ON_DRAWS, BellReference, bell_reference
from service.statistics.intervals import inside_and_away, reach
from service.statistics.least_squares import fit
from service.statistics.looks import step_cells
from service.statistics.pair_look import Setting
from service.statistics.pair_statistics import is_quiet, least_reach
from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Flags, Floats, RoundsNeeded
from service.statistics.running_pairs import RunningFit

TRIALS = 500
_TRIALS_OF_A_CHANCE = (1_000, 2_000)  # up to so many pairs x rounds; beyond, TRIALS
MOST_ROUNDS = 60
_SPANS = (16, 32, MOST_ROUNDS)
MOST_SIZE = 100_000  # pairs x rounds a reference may have
HALF, SAFE = 0.5, 0.8


class Noise(NamedTuple):
    """What is known of the run-to-run noise: sum of squares and its degrees of freedom."""

    squares: float
    degrees_of_freedom: float


@dataclass(frozen=True)
class _Decided:
    """Round at which each continued trial, and each pair in it, was decided; 0 while it is not."""

    trial: np.ndarray[tuple[int], np.dtype[np.int64]]
    pairs: np.ndarray[tuple[int, int], np.dtype[np.int64]]

    @classmethod
    def none_yet(cls, pairs: int, trials: int) -> "_Decided":
        return cls(np.zeros(trials, dtype=np.int64), np.zeros((pairs, trials), dtype=np.int64))

    def note(self, trial: Flags, pairs: Flags, number: int) -> None:
        self.trial[(self.trial == 0) & trial] = number
        self.pairs[(self.pairs == 0) & pairs] = number

    def enough(self) -> bool:
        return bool((self.trial > 0).mean() >= SAFE and ((self.pairs > 0).mean(axis=1) >= HALF).all())


def rounds_needed(
    scores: Floats, noise: Noise, *, competing: Flags, margin: float, setting: Setting
) -> RoundsNeeded:
    """Continue the trial 500 times with normal rounds and count until it is decided.

    The noise variance is drawn from its uncertainty (sum of squares over chi-square), the element means from
    theirs; the rounds done stay as they are. Looks, levels and outcomes are those of the rule with the
    bell-shaped references alone (4 000 draws); two elements: Student's t at the level of their step. Null
    beyond 60 rounds in all.

    scores: (K, R), NaN where no run was made, all K in one fit; competing: (K,).
    """
    elements, done = scores.shape
    pairs = elements * (elements - 1) // 2
    decided = _Decided.none_yet(pairs, TRIALS)
    last = min(MOST_ROUNDS, MOST_SIZE // pairs)
    if done >= last:
        return _summary(decided, done)
    for number, running in _continued(scores, noise, setting.seed, last=last, trials=TRIALS):
        if setting.plan.is_look(elements, number):
            reference = _reference(elements, number, setting, last=last)
            _look(running, number, decided, _Asking(reference, scores, competing, margin, setting))
            if decided.enough():
                break
    return _summary(decided, done)


def chances_settled(
    scores: Floats, noise: Noise, *, competing: Flags, margin: float, setting: Setting, rounds: int
) -> Floats:
    """The chance that the trial is decided after each of so many rounds to come, (rounds,).

    The trial, not decided yet, is continued as in `rounds_needed`, whose arguments these are: 2 000 times
    where pairs x rounds is at most 1 000, else 500 times: a chance of a half has a standard error of 0.011 or
    0.022.
    """
    elements, done = scores.shape
    trials = trials_of_a_chance(elements, done + rounds)
    decided = _Decided.none_yet(elements * (elements - 1) // 2, trials)
    reference = bell_reference(
        elements, done + rounds, setting.plan, store=setting.store, draws=FOLLOW_ON_DRAWS
    )
    asking = _Asking(reference, scores, competing, margin, setting)
    chances = np.zeros(rounds)
    continued = _continued(scores, noise, setting.seed, last=done + rounds, trials=trials)
    for number, running in continued:
        if setting.plan.is_look(elements, number):
            _look(running, number, decided, asking)
        chances[number - done - 1] = (decided.trial > 0).mean()
    return chances


def trials_of_a_chance(elements: int, rounds: int) -> int:
    """How often a trial of so many rounds in all is continued to tell the chance that it is decided."""
    most, trials = _TRIALS_OF_A_CHANCE
    return trials if elements * (elements - 1) // 2 * rounds <= most else TRIALS


class _Asking(NamedTuple):
    reference: BellReference
    scores: Floats
    competing: Flags
    margin: float
    setting: Setting


def _reference(elements: int, number: int, setting: Setting, *, last: int) -> BellReference:
    """The reference that holds this look: most trials are decided long before the last round there may be."""
    span = min(last, next(span for span in _SPANS if span >= number))
    return bell_reference(elements, span, setting.plan, store=setting.store, draws=FOLLOW_ON_DRAWS)


def _continued(
    scores: Floats, noise: Noise, seed: int, *, last: int, trials: int
) -> Iterator[tuple[int, RunningFit]]:
    elements, done = scores.shape
    running = RunningFit(elements, trials)
    centred = scores - np.nanmean(scores)
    for column in centred.T:
        present = np.isfinite(column)
        running.add(np.repeat(np.where(present, column, 0.0)[:, None], trials, axis=1), present)
    start = Stream(seed, Purpose.ROUNDS_NEEDED, elements=elements, round_number=0).uniforms(
        trials, elements + 1
    )
    chi_square = 2.0 * gammaincinv(noise.degrees_of_freedom / 2.0, start[:, 0])
    sd = np.sqrt(noise.squares / chi_square)
    runs = np.isfinite(scores).sum(axis=1)
    spread = ndtri(start[:, 1:]).T / np.sqrt(runs)[:, None]
    effects = fit(centred).effects  # not plain means: what a round has in common must not leak in
    means = effects[:, None] + sd * spread
    everyone = np.ones(elements, dtype=np.bool_)
    for number in range(done + 1, last + 1):
        stream = Stream(seed, Purpose.ROUNDS_NEEDED, elements=elements, round_number=number)
        running.add(means + sd * stream.normals(trials, elements).T, everyone)
        yield number, running


def _look(running: RunningFit, number: int, decided: _Decided, asking: _Asking) -> None:
    two = len(asking.scores) == 2
    difference, error = running.differences_and_errors(floor=0.0 if two else asking.setting.floor)
    critical, leader_critical = _criticals(running, number, asking)
    floor = asking.setting.floor
    least = least_reach(is_quiet(error**2 * running.shared, floor), floor) if two else np.zeros(1)
    found = _open(difference, np.maximum(reach(difference, error, critical), least), asking)
    lead_open = _open(difference, np.maximum(reach(difference, error, leader_critical), least), asking)
    first, second = running.first, running.second
    elements = np.arange(len(asking.scores))
    touches = (first == elements[:, None]) | (second == elements[:, None])
    counted = touches & (asking.competing[first] & asking.competing[second])
    ahead = _effects(difference, first, second, len(elements))
    ahead[~asking.competing] = -np.inf
    still_open = counted.astype(float) @ lead_open
    trial = still_open[ahead.argmax(axis=0), np.arange(difference.shape[1])] == 0
    decided.note(trial & (asking.competing.sum() > 1), ~found, number)


def _criticals(running: RunningFit, number: int, asking: _Asking) -> tuple[Floats, Floats]:
    """Critical values per pair, taken at the smaller number of runs of the two; infinite without a look."""
    if len(asking.scores) == 2:
        rounds = int(running.shared[0, 0])
        found = asking.reference.at(rounds)
        share = 2.0 * (found.order or 0) / step_cells(rounds) if found else 0.0
        value = float(stdtrit(rounds - 1, 1.0 - share / 2.0)) if share else np.inf
        return np.array([[value]]), np.array([[value]])
    runs = np.isfinite(asking.scores).sum(axis=1) + number - asking.scores.shape[1]
    fewer = np.minimum(runs[running.first], runs[running.second])
    looks = [asking.reference.at(int(n)) for n in fewer]
    values = [(look.critical, look.leader_critical) if look else (np.inf, np.inf) for look in looks]
    table = np.array(values, dtype=float)
    return table[:, :1], table[:, 1:]


def _open(difference: Floats, ends: Floats, asking: _Asking) -> Flags:
    low, high = difference - ends, difference + ends
    inside, away = inside_and_away(low, high, margin=asking.margin, tol=asking.setting.tol)
    return ~(inside | away)


def _effects(
    difference: Floats,
    first: np.ndarray[tuple[int], np.dtype[np.intp]],
    second: np.ndarray[tuple[int], np.dtype[np.intp]],
    elements: int,
) -> Floats:
    """Effects, up to a constant, from the differences of all pairs: (K, draws)."""
    numbers = np.arange(elements)[:, None]
    signs = (first == numbers).astype(float) - (second == numbers)
    return np.asarray(signs @ difference / elements)


def _summary(decided: _Decided, done: int) -> RoundsNeeded:
    half, safe = reached(decided.trial, HALF, done), reached(decided.trial, SAFE, done)
    pairs = tuple(reached(row, HALF, done) for row in decided.pairs)
    return RoundsNeeded(half, safe, pairs, too_fine=half is None)


def reached(at: np.ndarray[tuple[int], np.dtype[np.int64]], share: float, done: int) -> int | None:
    """The fewest rounds beyond those done at which this share of continued trials is decided."""
    times = np.sort(at[at > 0])
    needed = int(np.ceil(share * TRIALS))
    return int(times[needed - 1]) - done if len(times) >= needed else None
