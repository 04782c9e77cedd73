"""Changes of the rule that were tried where its promise breaks, and what they cost.

python -m tests.calibration.mends_tried --trials 4000

prints what `beyond.md` tells. None of them is in the rule: each costs more than three points of power, or
mends too little.
"""

import argparse
from collections.abc import Callable, Iterator
from functools import partial

import numpy as np
from scipy.stats import t as student

from service.statistics.bell_reference import bell_reference
from service.statistics.looks import Boundary, Plan
from service.statistics.noisiest import noisiest
from service.statistics.odd_cell import odd_cell
from service.statistics.running_pairs import RunningPairs
from tests.calibration import generators as make
from tests.calibration import many_trials
from tests.calibration.many_trials import STORE
from tests.calibration.rates import COUNTED, flags, rates, rule

PLAN = Plan(6, 0.05, every_round=True)
ROUNDS = 12
UNEQUAL, ODD = 0.02, 0.002  # p at which the cautions unequal-noise and odd-run are raised
SKEWED = {f"skewed, one {times:g} times": partial(make.skewed_one_noisy, times=times) for times in (2.0, 3.0)}
Noise = Callable[..., np.ndarray]


def student_beside_sign_flips(trials: int) -> Iterator[str]:
    """Two elements: the interval of Student's t at the level of the step, where it is the wider one."""
    plain = many_trials._subset_ends
    for name, ends in {"as it is": plain, "the wider of both": partial(_wider, plain)}.items():
        many_trials._subset_ends = ends
        noises = {"normal": make.normal, **SKEWED}
        errors = [f"{noise} {_wrong(draw, trials):.3f}" for noise, draw in noises.items()]
        powers = [f"{gap:g} sd {_named(gap, trials):.3f}" for gap in (2.0, 3.0)]
        yield f"| {name} | {', '.join(errors)} | {', '.join(powers)} |"
    many_trials._subset_ends = plain


def _wider(plain, differences, order):
    rounds = differences.shape[1]
    critical = student.ppf(1.0 - order / 2.0**rounds, rounds - 1)
    ends = critical * differences.std(axis=1, ddof=1) / np.sqrt(rounds)
    low, high = plain(differences, order)
    mean = differences.mean(axis=1)
    return np.minimum(low, mean - ends), np.maximum(high, mean + ends)


def _wrong(draw: Noise, trials: int) -> float:
    means = np.zeros(2)
    return rates(draw(means, trials=trials, rounds=ROUNDS, seed=5), means, rule()).false_calls / trials


def _named(gap: float, trials: int) -> float:
    means = make.one_ahead(2, gap)
    scores = make.normal(means, trials=trials, rounds=PLAN.planned, seed=6)
    return rates(scores, means, rule()).named_by_plan / trials


def third_pattern(trials: int) -> Iterator[str]:
    """Three elements and more: a skewed pattern, one three times as noisy, beside the bell-shaped two."""
    for elements in (3, 4, 8):
        reference = bell_reference(elements, ROUNDS, PLAN, store=STORE)
        now = {look.round: look.critical for look in reference.looks}
        null = make.skewed_one_noisy(np.zeros(elements), trials=20_000, rounds=ROUNDS, seed=9)
        boundary, mended = Boundary(len(null)), {}
        for number, statistic in _statistics(null):
            spent = PLAN.spent(number, elements=elements)
            third, _ = boundary.look(statistic.max(axis=0), spent=spent, counted=spent)
            mended[number] = max(now[number], third)
        means = make.one_ahead(elements, 3.0)
        ahead = make.normal(means, trials=trials, rounds=PLAN.planned, seed=10)
        shares = [_called(ahead, values, elements) for values in (now, mended)]
        six = PLAN.planned
        yield (f"| {elements} | {now[six]:.2f} | {mended[six]:.2f} | {shares[0]:.3f} | {shares[1]:.3f} |")


def _called(scores: np.ndarray, criticals: dict[int, float], elements: int) -> float:
    """Share of the best one's pairs that are called at some look to the plan."""
    called = np.zeros((elements - 1, len(scores)), dtype=bool)
    for number, statistic in _statistics(scores):
        called |= statistic[: elements - 1] > criticals[number]
    return float(called.mean())


def _statistics(scores: np.ndarray) -> Iterator[tuple[int, np.ndarray]]:
    """T of every pair and trial after each look."""
    trials, elements, rounds = scores.shape
    running = RunningPairs(elements, trials)
    for number in range(1, rounds + 1):
        running.add(np.ascontiguousarray(scores[:, :, number - 1].T))
        if PLAN.is_look(elements, number):
            yield number, np.sqrt(running.squared_statistics(floor=0.0))


def warned(trials: int) -> Iterator[str]:
    """Of the trials in which a pair was falsely called, how many carry a caution about their noise."""
    noises: dict[str, Noise] = {**SKEWED, "one five times as noisy": partial(make.one_noisy, times=5.0)}
    for name, draw in noises.items():
        for elements in (3, 4, 8):
            scores = draw(np.zeros(elements), trials=trials, rounds=ROUNDS, seed=11)
            found = flags(scores, np.zeros((trials, elements)), rule())
            wrong = scores[found[COUNTED.index("false_calls")] > 0]
            yield f"| {name} | {elements} | {len(wrong) / trials:.3f} | {_cautions(wrong, trials)} |"


def _cautions(wrong: np.ndarray, trials: int) -> str:
    """Shares told of unequal noise, stopped by it, told of it or an odd run; what stays unstopped, untold."""
    noise = [noisiest(one) for one in wrong]
    told = np.array([found.p_value <= UNEQUAL for found in noise])
    stopped = told & np.array([found.times > 3.0 for found in noise])
    either = told | np.array([odd_cell(one).p_value <= ODD for one in wrong])
    left = (~stopped).sum() / trials, (~either).sum() / trials
    shares = [f"{one.mean():.2f}" for one in (told, stopped, either)]
    return " | ".join([*shares, *(f"{one:.3f}" for one in left)])


def main() -> None:
    """Print every experiment."""
    parser = argparse.ArgumentParser(description="Changes of the rule that were tried.")
    parser.add_argument("--trials", type=int, default=4_000)
    trials = parser.parse_args().trials
    for experiment in (student_beside_sign_flips, third_pattern, warned):
        print(experiment.__doc__)
        for line in experiment(trials):
            print(line, flush=True)


if __name__ == "__main__":
    main()
