"""The power that a plan promises against what simulation of the whole procedure gives.

python -m tests.calibration.plan_power --trials 1000 --workers 2

writes `plan_power.md` beside this file. Each trial is drawn anew, by another generator than the plan's, and
put to the rule: its looks in order, decisions standing, as `judge` does it.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from service.statistics.bell_reference import MemoryStore
from service.statistics.power import Design, power
from service.statistics.results import KnownNoise, Rule
from service.statistics.standing import standing_trial
from service.statistics.trial_looks import TrialLooks
from tests.calibration.courses import done, line, page, parser

TABLE = Path(__file__).with_name("plan_power.md")
COMMAND = "python -m tests.calibration.plan_power --trials {trials} --workers 2"
WITHIN = 0.05
STORE = MemoryStore()
HEAD = """# The power of a plan: predicted and measured

How often the best element, so many run-to-run standard deviations ahead of all others, stands named at the
end of the plan: as a plan predicts it, and in {trials} simulated trials put to the whole rule, looks
included. Made by

```
{command}
```

Held by `test_plan_power.py`: predicted within 5 points of measured in every design.

"""
COLUMNS = ("design", "elements", "competing", "rounds", "ahead by", "predicted", "measured", "apart")


@dataclass(frozen=True)
class Course:
    """A design under a name, and how far its winner is ahead."""

    name: str
    design: Design
    ahead: float


def _course(name: str, elements: int, rounds: int, ahead: float, **changes) -> Course:
    competing, known = changes.pop("competing", elements), changes.pop("known", None)
    given = {"planned": rounds, "alpha": 0.05, "every_round": True, "margin": 1e-9, "floor": 0.0, "seed": 1}
    rule = Rule(**{**given, **changes})
    return Course(name, Design(elements, competing, rounds, rule, known=known), ahead)


COURSES = (
    _course("two elements", 2, 6, 2.5),
    _course("two elements, long", 2, 14, 1.3),
    _course("three elements", 3, 5, 3.0),
    _course("four elements", 4, 6, 2.5),
    _course("six elements", 6, 5, 3.5),
    _course("eight elements", 8, 6, 3.0),
    _course("twelve elements", 12, 4, 4.0),
    _course("twin and pad", 6, 6, 2.5, competing=4),
    _course("planned end", 5, 6, 2.5, every_round=False),
    _course("beyond the plan, confidence 0.90", 4, 9, 1.8, planned=6, alpha=0.10),
    _course("margin of two sd, coarse meter", 4, 8, 2.4, margin=2.0, floor=0.5),
    _course("known noise, two rounds", 5, 2, 5.0, known=KnownNoise(1.0, 9)),
)


def predicted(course: Course) -> float:
    """As a plan predicts it."""
    return float(power(course.design, seed=1, store=STORE).chances(course.ahead)[-1])


def measured(course: Course, trials: int, *, seed: int) -> float:
    """The share of trials at whose end the rule names the winner."""
    design = course.design
    rng = np.random.default_rng([seed, design.elements, design.rounds])
    competing = np.arange(design.elements) < design.competing
    named = 0
    for _ in range(trials):
        scores = rng.normal(0.0, design.sd, (design.elements, design.rounds))
        scores[0] += course.ahead
        looks = TrialLooks(
            scores, design.rule, store=STORE, known=design.known, repeats=None, competing=competing
        )
        named += standing_trial(looks, competing).winner == 0
    return named / trials


def table(found: dict[Course, tuple[float, float]], trials: int) -> str:
    """Predicted against measured as a Markdown document."""
    head = HEAD.format(trials=trials, command=COMMAND.format(trials=trials))
    return page(head, COLUMNS, (_row(course, *shares) for course, shares in found.items()))


def _row(course: Course, promised: float, came: float) -> str:
    design = course.design
    numbers = (design.elements, design.competing, design.rounds, course.ahead)
    return line([course.name, *numbers, *(f"{one:.3f}" for one in (promised, came, abs(promised - came)))])


def _both(course: Course, trials: int) -> tuple[float, float]:
    return predicted(course), measured(course, trials, seed=1)


def main() -> None:
    """Simulate every course and write the table."""
    asked = parser("Predicted power against measured.", trials=1000).parse_args()
    found = dict(done(_both, COURSES, trials=asked.trials, workers=asked.workers))
    TABLE.write_text(table(found, asked.trials), encoding="utf-8")


if __name__ == "__main__":
    main()
