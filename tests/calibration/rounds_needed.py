"""Rounds still needed: what was predicted on the way against the round at which the trial was decided.

python -m tests.calibration.rounds_needed --trials 200 --workers 2

writes `rounds_needed.md` beside this file and prints its progress. After rounds 3, 4 and 5 of each simulated
trial that is still open the rule predicts `more_rounds` (half of the continued trials are decided by then)
and `more_rounds_safe` (four fifths); then the trial goes on, with looks after every round, to 40 rounds (two
elements 16).
"""

from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np

from service.statistics.least_squares import fit
from service.statistics.looks import Plan
from service.statistics.pair_look import Setting
from service.statistics.rounds_needed import Noise, rounds_needed
from tests.calibration import generators as make
from tests.calibration.courses import done, line, page, parser
from tests.calibration.many_trials import OPEN, STORE, follow
from tests.calibration.rates import rule

TABLE = Path(__file__).with_name("rounds_needed.md")
COMMAND = "python -m tests.calibration.rounds_needed --trials {trials} --workers 2"
ASKED = (3, 4, 5)
LAST, LAST_OF_TWO = 40, 16
WIDE = 3.0  # a margin in run-to-run sd that equal elements can be shown to lie within
HEAD = """# Rounds still needed: predicted and actual

{trials} simulated trials a design, normal noise, a plan of six rounds, confidence 0.95; the winner leads by
the gap, in standard deviations from run to run, or is random: a gap drawn anew for each trial, evenly from 0
to 4. Made by

```
{command}
```

`open`: trials not decided when asked. `predicted`, `safe`: the middle predictions, of rounds still needed.
`actual`: the middle of the rounds it did take. `by predicted`, `by safe`: of the trials whose predicted round
was simulated, the share that was decided by it. `none`: the share without a prediction (more than 60 rounds
in all); `of these open`: how many of them were still open at the last round simulated.

Held by `test_rounds_needed.py`: at least half of the trials are decided by the predicted round, at least four
fifths by the safe one. Both err on the long side, the more so the more elements there are and the fewer
rounds are done: what the elements differ by is taken to be anything, so each continued trial spreads them
further than they are.

"""
COLUMNS = (
    "elements",
    "gap",
    "margin",
    "after round",
    "open",
    "predicted",
    "safe",
    "actual",
    "by predicted",
    "by safe",
    "none",
    "of these open",
)


@dataclass(frozen=True)
class Course:
    """Trials of so many elements with the first `gap` ahead; gap None: drawn anew for each."""

    elements: int
    gap: float | None
    margin: float

    @property
    def last(self) -> int:
        """The last round simulated."""
        return LAST_OF_TWO if self.elements == 2 else LAST


COURSES = (
    Course(2, 3.0, 0.5),
    Course(2, None, WIDE),
    Course(3, 3.0, 0.5),
    Course(3, None, 0.5),
    Course(4, 2.0, 0.5),
    Course(4, 3.0, 0.5),
    Course(4, 0.0, WIDE),
    Course(4, None, 0.5),
    Course(8, 2.0, 0.5),
    Course(8, None, 0.5),
)


@dataclass(frozen=True)
class Prediction:
    """Predictions for the open trials after one round: arrays (open trials,), -1 where there is none.

    followed: rounds simulated from there on; took: rounds to the decision, -1 where there was none in these.
    """

    asked: int
    followed: int
    half: np.ndarray
    safe: np.ndarray
    took: np.ndarray


def predictions(course: Course, trials: int, *, seed: int) -> list[Prediction]:
    """Ask after rounds 3, 4 and 5 and let the trials go on."""
    scores = _drawn(course, trials, seed)
    fixed = rule(margin=course.margin)
    decided = np.zeros(trials, dtype=int)
    for pairs, lead in follow(scores, fixed):
        decided[(decided == 0) & (lead.outcome != OPEN)] = pairs.round
    return [_asked(scores, decided, fixed, number) for number in ASKED]


def table(found: dict[Course, list[Prediction]], trials: int) -> str:
    """Predicted against actual as a Markdown document."""
    rows = [_row(course, one) for course, several in found.items() for one in several]
    head = HEAD.format(trials=trials, command=COMMAND.format(trials=trials))
    return page(head, COLUMNS, rows)


def share_decided(one: Prediction, predicted: np.ndarray) -> tuple[int, int]:
    """(trials decided by the round predicted, trials whose predicted round was simulated)."""
    told = (predicted >= 0) & (predicted <= one.followed)
    return int((told & (one.took >= 0) & (one.took <= predicted)).sum()), int(told.sum())


def _drawn(course: Course, trials: int, seed: int) -> np.ndarray:
    rng = np.random.default_rng([seed, course.elements, int(100 * (course.gap or 77))])
    gaps = np.full(trials, course.gap) if course.gap is not None else rng.uniform(0.0, 4.0, trials)
    noise = make.normal(
        np.zeros(course.elements), trials=trials, rounds=course.last, seed=rng.integers(2**32)
    )
    noise[:, 0] += gaps[:, None]
    return noise


def _asked(scores: np.ndarray, decided: np.ndarray, fixed, number: int) -> Prediction:
    still = np.flatnonzero((decided == 0) | (decided > number))
    asked = [_predicted(scores[trial, :, :number], fixed) for trial in still]
    half, safe = (
        np.array([-1 if one is None else one for one in column]) for column in zip(*asked, strict=True)
    )
    took = np.where(decided[still] == 0, -1, decided[still] - number)
    return Prediction(number, scores.shape[2] - number, half, safe, took)


def _predicted(scores: np.ndarray, fixed) -> tuple[int | None, int | None]:
    fitted = fit(scores)
    setting = Setting(
        Plan(fixed.planned, fixed.alpha, fixed.every_round), fixed.floor, fixed.seed, 1e-9, STORE
    )
    noise = Noise(fitted.residual_ss, float(fitted.degrees_of_freedom))
    everyone = np.ones(len(scores), dtype=bool)
    found = rounds_needed(scores, noise, competing=everyone, margin=fixed.margin, setting=setting)
    return found.half, found.safe


def _row(course: Course, one: Prediction) -> str:
    by_half, by_safe = (share_decided(one, predicted) for predicted in (one.half, one.safe))
    none = one.half < 0
    cells = [
        course.elements,
        "random" if course.gap is None else course.gap,
        course.margin,
        one.asked,
        len(one.half),
        _middle(one.half),
        _middle(one.safe),
        _middle(one.took),
        f"{by_half[0] / max(by_half[1], 1):.2f}",
        f"{by_safe[0] / max(by_safe[1], 1):.2f}",
        f"{none.mean():.2f}",
        f"{(one.took[none] < 0).mean():.2f}" if none.any() else "",
    ]
    return line(cells)


def _middle(rounds: np.ndarray) -> str:
    """The median, where -1 is more than any number of rounds."""
    middle = float(np.median(np.where(rounds < 0, np.inf, rounds)))
    return f"{middle:g}" if np.isfinite(middle) else "beyond"


def main() -> None:
    """Simulate every course and write the table."""
    asked = parser("Predicted rounds against actual ones.", trials=200).parse_args()
    found = dict(done(partial(predictions, seed=1), COURSES, trials=asked.trials, workers=asked.workers))
    TABLE.write_text(table(found, asked.trials), encoding="utf-8")


if __name__ == "__main__":
    main()
