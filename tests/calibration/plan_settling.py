"""The chance that the rounds to come settle a trial under way, against what the whole procedure gives.

python -m tests.calibration.plan_settling --trials 1000 --workers 2

writes `plan_settling.md` beside this file. The rounds so far are fixed; those to come are drawn anew, by
another generator than the plan's, with a noise and element means from their uncertainty given these rounds;
and each trial is put to the rule: its looks in order, shuffles included, decisions standing, as `judge` does.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from service.statistics.bell_reference import MemoryStore
from service.statistics.judgement import judge
from service.statistics.results import NEEDS_MORE_RUNS, Floats, Rule
from service.statistics.settling import settling
from service.statistics.standing import standing_trial
from service.statistics.trial_looks import TrialLooks
from tests.calibration.courses import done, line, page, parser

TABLE = Path(__file__).with_name("plan_settling.md")
COMMAND = "python -m tests.calibration.plan_settling --trials {trials} --workers 2"
WITHIN = 0.05
STORE = MemoryStore()
HEAD = """# The chance that the rounds to come settle a trial: predicted and measured

In how many of 100 continuations of these trials a verdict stands at the end, a winner or within noise: as a
plan that continues them predicts it, and in {trials} continued trials put to the whole rule. Made by

```
{command}
```

Held by `test_plan_settling.py`: predicted within 5 points of measured in every design (with {trials} trials
chance alone moves the measured share by up to 3 points in 95 of 100 cases).

"""
COLUMNS = ("design", "elements", "rounds done", "rounds to come", "predicted", "measured", "apart")


@dataclass(frozen=True)
class UnderWay:
    """A trial under way; `ahead`: how far the first seems to be, in sd."""

    name: str
    elements: int
    done: int
    to_come: int
    ahead: float
    margin: float = 1e-9
    every_round: bool = True
    competing: int | None = None

    @property
    def scores(self) -> Floats:
        """The rounds so far, (elements, done): the first is ahead of the others by so much on average."""
        drawn = np.random.default_rng([7, self.elements, self.done]).normal(size=(self.elements, self.done))
        drawn -= drawn.mean(axis=1, keepdims=True)
        drawn[0] += self.ahead
        return drawn

    @property
    def rule(self) -> Rule:
        """The rule, planned for all of the rounds."""
        planned = self.done + self.to_come
        return Rule(planned, alpha=0.05, every_round=self.every_round, margin=self.margin, floor=0.0, seed=1)

    @property
    def competes(self) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        """Which compete: all but the last few."""
        return np.arange(self.elements) < (self.competing or self.elements)


COURSES = (
    UnderWay("two elements", 2, 3, 5, 1.5),
    UnderWay("three elements", 3, 3, 3, 2.0),
    UnderWay("four elements, two rounds done", 4, 2, 4, 3.0),
    UnderWay("six elements", 6, 4, 3, 3.2),
    UnderWay("within noise", 3, 4, 6, 0.0, margin=2.0),
    UnderWay("planned end, with a twin", 5, 3, 3, 1.8, every_round=False, competing=4),
)


def predicted(course: UnderWay) -> float:
    """As a plan predicts it."""
    found = settling(
        course.scores, course.rule, competing=course.competes, store=STORE, rounds=course.to_come
    )
    return float(found.chances[-1])


def measured(course: UnderWay, trials: int, *, seed: int) -> float:
    """The share of continued trials in which a verdict stands at the end."""
    scores = course.scores
    noise = judge(scores, course.rule, competing=course.competes, store=STORE)
    squares, freedom = noise.residual_variance * noise.residual_df, noise.residual_df
    rng = np.random.default_rng([seed, course.elements, course.done])
    means, settled = scores.mean(axis=1, keepdims=True), 0
    for _ in range(trials):
        sd = np.sqrt(squares / rng.chisquare(freedom))
        truth = means + sd * rng.normal(size=means.shape) / np.sqrt(course.done)
        more = truth + sd * rng.normal(size=(course.elements, course.to_come))
        looks = TrialLooks(
            np.hstack([scores, more]), course.rule, store=STORE, known=None, repeats=None,
            competing=course.competes,
        )  # fmt: skip
        settled += standing_trial(looks, course.competes).outcome != NEEDS_MORE_RUNS
    return settled / trials


def table(found: dict[UnderWay, tuple[float, float]], trials: int) -> str:
    """Predicted against measured as a Markdown document."""
    head = HEAD.format(trials=trials, command=COMMAND.format(trials=trials))
    return page(head, COLUMNS, (_row(course, *shares) for course, shares in found.items()))


def _row(course: UnderWay, promised: float, came: float) -> str:
    shares = (f"{one:.3f}" for one in (promised, came, abs(promised - came)))
    return line([course.name, course.elements, course.done, course.to_come, *shares])


def _both(course: UnderWay, trials: int) -> tuple[float, float]:
    return predicted(course), measured(course, trials, seed=1)


def main() -> None:
    """Continue every trial and write the table."""
    asked = parser("Predicted chance of a verdict against measured.", trials=1000).parse_args()
    found = dict(done(_both, COURSES, trials=asked.trials, workers=asked.workers))
    TABLE.write_text(table(found, asked.trials), encoding="utf-8")


if __name__ == "__main__":
    main()
