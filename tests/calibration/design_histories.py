"""Design histories: how often what does not creep is said to, and how often what does is found.

python -m tests.calibration.design_histories --trials 5000 --workers 2

writes `design_histories.md` beside this file. Everything is in standard deviations of the difference of one
round (element less reference); `shift` is that of a shift from day to day which the reference does not share.
What is simulated is invented; no reading was taken at any mast.
"""

from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.stats import t as student

from service.statistics.trend_over_trials import trend_over_trials
from tests.calibration import generators as make
from tests.calibration.courses import parser
from tests.calibration.weighted_trend import weighted_trend

TABLE = Path(__file__).with_name("design_histories.md")
COMMAND = "python -m tests.calibration.design_histories --trials {trials} --workers 2"
ALPHA = 0.05
HEAD = """# Design histories: how often they are wrong, and how often they find what creeps

{trials} simulated histories a row, confidence 0.95. Noise in standard deviations of the difference of one
round; `shift` is the standard deviation of a shift from day to day that the reference does not share. Made by

```
{command}
```

`creeps`: nothing creeps and the history says so; promised: at most 0.05. `line alone`: the same by the
interval between trials alone (plain least squares), which is exact where all means are equally noisy and not
elsewhere. `weighted`: the same by a random-effects regression (`weighted_trend.py`), which was tried and
left: where days differ in noise its weights do not help. `no creep`: the change over the dates is exactly the
margin, of four standard deviations, and the history says that there is none beyond it; promised: at most
0.025.

"""
POWER_HEAD = """
`found`: the change over the dates is that large, the trials have six rounds each and are evenly dated, and
the history says `creeps` (margin of half a standard deviation).

"""


@dataclass(frozen=True)
class Case:
    """One design of simulation: dates, rounds of each trial, noise of its rounds, shift from day to day."""

    name: str
    dates: tuple[float, ...]
    rounds: tuple[int, ...]
    noise: tuple[float, ...]
    shift: float = 0.0
    kind: str = "normal"


def even(name, rounds, *, noise=1.0, **more):
    """Evenly dated."""
    noises = noise if isinstance(noise, tuple) else (noise,) * len(rounds)
    return Case(name, tuple(map(float, range(len(rounds)))), rounds, noises, **more)


ENDS_3 = (3.0, 1.0, 1.0, 1.0, 1.0, 3.0)
FEW_AT_ENDS = (3, *(12,) * 8, 3)
CASES = (
    even("3 trials of 6 rounds", (6,) * 3),
    even("3 trials of 6 rounds, shift 1", (6,) * 3, shift=1.0),
    even("3 trials of 3, 12 and 3 rounds", (3, 12, 3)),
    Case("3 trials of 3, 3 and 12 rounds, two near, shift 3", (0, 0.1, 2), (3, 3, 12), (1,) * 3, 3.0),
    even("4 trials of 2 rounds, shift 0.3", (2,) * 4, shift=0.3),
    even("6 trials of 6 rounds", (6,) * 6),
    even("6 trials of 6 rounds, shift 0.5", (6,) * 6, shift=0.5),
    even("6 trials of 6 rounds, shift 0.5, heavy-tailed", (6,) * 6, shift=0.5, kind="heavy-tailed"),
    even("6 trials, 3 rounds at both ends, else 12", (3, 12, 12, 12, 12, 3)),
    even("6 trials, 3 rounds at both ends, else 12, shift 0.3", (3, 12, 12, 12, 12, 3), shift=0.3),
    even("6 trials of 6 rounds, ends three times as noisy", (6,) * 6, noise=ENDS_3),
    even("6 trials of 6 rounds, ends three times as noisy, shift 1", (6,) * 6, noise=ENDS_3, shift=1.0),
    even("10 trials, 3 rounds at both ends, else 12, shift 0.3", FEW_AT_ENDS, shift=0.3),
    even("10 trials of 6 rounds, ends twice as noisy, shift 0.5", (6,) * 10,
         noise=(2.0, *(1.0,) * 8, 2.0), shift=0.5),
    Case("5 trials, the last years later with 3 rounds, else 12, shift 0.1",
         (0, 0.05, 0.1, 0.15, 3), (12, 12, 12, 12, 3), (1,) * 5, 0.1),
)  # fmt: skip
CHANGES = (0.5, 1.0, 2.0, 3.0)
POWER = ((3, 0.0), (4, 0.0), (6, 0.0), (6, 0.3), (8, 0.0), (8, 0.3), (12, 0.3))
MARGIN = 4.0


def history(draw, case, *, change=0.0):
    """Rounds of each trial, with a straight change over the dates."""
    dates = np.array(case.dates)
    means = change * (dates - dates[0]) / np.ptp(dates) + case.shift * make.of_kind(
        draw, case.kind, len(dates)
    )
    return [
        mean + sd * make.of_kind(draw, case.kind, count)
        for mean, count, sd in zip(means, case.rounds, case.noise, strict=True)
    ]


def found(case, rounds):
    """The trend, and both ends of the change over the dates."""
    trend = trend_over_trials(case.dates, rounds, level=1 - ALPHA)
    return trend, np.array([trend.low, trend.high]) * np.ptp(case.dates)


def wrong(case, trials, seed=1):
    """Shares: creeps where nothing does; by the line alone; by weights; no creep at just the margin."""
    draw = np.random.default_rng(seed)
    dates = np.array(case.dates)
    spread = np.sqrt(np.square(dates - dates.mean()).sum())
    counts = np.zeros(4)
    for _ in range(trials):
        rounds = history(draw, case)
        trend, (low, high) = found(case, rounds)
        reach = student.ppf(1 - ALPHA / 2, trend.between_df) * trend.between_sd / spread
        _, least, most = weighted_trend(case.dates, rounds, level=1 - ALPHA)
        counts[:3] += low > 0 or high < 0, abs(trend.slope) > reach, least > 0 or most < 0
        _, (low, high) = found(case, history(draw, case, change=MARGIN))
        counts[3] += low >= -MARGIN and high <= MARGIN
    return counts / trials


def power(case, change, trials, seed=2):
    """The share of histories that say `creeps` where so much does; those within the margin do not."""
    draw = np.random.default_rng(seed)
    ends = [found(case, history(draw, case, change=change))[1] for _ in range(trials)]
    return float(np.mean([(low > 0 and high > 0.5) or (high < 0 and low < -0.5) for low, high in ends]))


def text(trials, rates, powers):
    """The page with both tables."""
    lines = ["| design | creeps | line alone | weighted | no creep |", "| --- |" + " ---: |" * 4]
    lines += [
        f"| {case.name} | {' | '.join(f'{share:.3f}' for share in shares)} |"
        for case, shares in zip(CASES, rates, strict=True)
    ]
    heads = " | ".join(f"{change:g}" for change in CHANGES)
    table = [f"| trials | shift | {heads} |", f"| ---: | ---: |{' ---: |' * len(CHANGES)}"]
    table += [
        f"| {count} | {shift:g} | {' | '.join(f'{share:.2f}' for share in shares)} |"
        for (count, shift), shares in zip(POWER, powers, strict=True)
    ]
    head = HEAD.format(trials=trials, command=COMMAND.format(trials=trials))
    return head + "\n".join(lines) + "\n" + POWER_HEAD + "\n".join(table) + "\n"


def main():
    """Simulate all and write the table."""
    asked = parser(__doc__, trials=5_000).parse_args()
    with ProcessPoolExecutor(asked.workers) as pool:
        rates = [pool.submit(wrong, case, asked.trials) for case in CASES]
        designs = [even("", (6,) * count, shift=shift) for count, shift in POWER]
        kinds = [(design, change) for design in designs for change in CHANGES]
        shares = [pool.submit(power, case, change, asked.trials // 5) for case, change in kinds]
        found_shares = [one.result() for one in shares]
        rows = [found_shares[place : place + len(CHANGES)] for place in range(0, len(shares), len(CHANGES))]
        TABLE.write_text(text(asked.trials, [one.result() for one in rates], rows), encoding="utf-8")


if __name__ == "__main__":
    main()
