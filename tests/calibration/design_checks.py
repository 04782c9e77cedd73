"""Design checks: how often one that is exactly a margin worse passes, and how often a good one does.

python -m tests.calibration.design_checks --trials 2000 --workers 2

writes `design_checks.md` beside this file. Everything is in standard deviations from run to run; a
difference of two runs has 1.41 of them. What is simulated is invented; no reading was taken at any mast.
"""

from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np

from service.statistics.bell_reference import MemoryStore
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS, paired_checks
from service.statistics.results import Rule
from service.statistics.welch_checks import welch_checks
from service.statistics.welch_limits import joined_by_reference, over_samples
from tests.calibration import few_rounds
from tests.calibration import generators as make
from tests.calibration.courses import parser

TABLE = Path(__file__).with_name("design_checks.md")
COMMAND = "python -m tests.calibration.design_checks --trials {trials} --workers 2"
STORE = MemoryStore()
ALPHA = 0.05
ONCE = 10  # checks that are asked once are quick, so that so many times as many are simulated
LAST = 12
HEAD = """# Design checks: how often they are wrong, and how often they pass what is good

Confidence 0.95, a plan of six rounds. {trials} simulated checks a row in one trial, {many} where a check is
asked once. Noise in standard deviations of one run; the difference between two runs has 1.41 of them. Made by

```
{command}
```

`wrong`: some candidate that is exactly one margin worse holds, at any look; promised: at most 0.05. In one
trial the check is asked after every round to 12, and once it has held it counts as wrong, whatever came
later. Through a reference, and with several samples of a design, it is asked once.

"""
POWER_HEAD = """
`power`: a candidate as good as the baseline holds by that round (in one trial, asked after every round), or
at that many rounds of today (through a reference, asked once, against 6 rounds then).

"""


@dataclass(frozen=True)
class Case:
    """One design of simulation.

    noise: of the candidates' runs, the baseline's is 1. kind: normal, heavy-tailed or coarse (readings in
    whole sd). now, then: rounds through a reference, 0 in one trial; then_noise: of the earlier day. samples:
    of one design, 0 where designs are single; between: sd between them.
    """

    name: str
    candidates: int = 1
    noise: float = 1.0
    kind: str = "normal"
    now: int = 0
    then: int = 0
    then_noise: float = 1.0
    samples: int = 0
    between: float = 0.0

    @property
    def once(self):
        return bool(self.now or self.samples)


WRONG = (
    Case("one candidate"),
    Case("one candidate, heavy-tailed", kind="heavy-tailed"),
    Case("one candidate, coarse meter", kind="coarse"),
    Case("one candidate, three times as noisy", noise=3.0),
    Case("three candidates", candidates=3),
    Case("three candidates, three times as noisy", candidates=3, noise=3.0),
    Case("through a reference, 6 and 6 rounds", now=6, then=6),
    Case("through a reference, 3 and 3 rounds", now=3, then=3),
    Case("through a reference, 3 and 12 rounds", now=3, then=12),
    Case("through a reference, 3 and 12 rounds, today three times as noisy", now=3, then=12, noise=3.0),
    Case("through a reference, 12 and 3 rounds, then three times as noisy", now=12, then=3, then_noise=3.0),
    Case("through a reference, 4 and 12 rounds, today three times as noisy", now=4, then=12, noise=3.0),
    Case("through a reference, 5 and 12 rounds, today three times as noisy", now=5, then=12, noise=3.0),
    Case("through a reference, 6 and 12 rounds, today three times as noisy", now=6, then=12, noise=3.0),
    Case("three candidates through a reference, 4 and 9 rounds", candidates=3, now=4, then=9, noise=2.0),
    Case("three candidates through a reference, 3 and 12 rounds", candidates=3, now=3, then=12, noise=3.0),
    Case("three samples alike, 12 rounds", samples=3),
    Case("three samples that differ as much as runs, 12 rounds", samples=3, between=1.0),
    Case("eight samples that differ as much as runs, 12 rounds", samples=8, between=1.0),
)
MARGINS = (1.0, 1.5, 2.0, 3.0)
POWER_ROUNDS = (6, 8, 10, 12)


def one_trial(draw, case, *, worse):
    """Differences (candidates, LAST) to the baseline; coarse readings are rounded before."""
    candidates = case.noise * make.of_kind(draw, case.kind, (case.candidates, LAST)) - worse
    baseline = make.of_kind(draw, case.kind, LAST)
    if case.kind == "coarse":
        shift = draw.uniform(size=LAST)
        return np.round(candidates + shift) - np.round(baseline + shift)
    return candidates - baseline


def holds_in_one_trial(differences, *, margin, floor=0.0):
    """The round at which each candidate first held, 0 where none did.

    The outcome after the last round is that of the latest look that decided: only where it fell short in the
    end may a candidate have held before, and only then is each round asked by itself.
    """
    rule = Rule(6, ALPHA, True, margin, floor, 1)
    last = paired_checks(differences, rule, store=STORE)
    if all(one.outcome != FALLS_SHORT for one in last):
        return np.array([(one.decided_at or 0) if one.outcome == HOLDS else 0 for one in last])
    first = np.zeros(len(differences), dtype=int)
    for number in range(1, LAST + 1):
        found = paired_checks(differences[:, :number], rule, store=STORE)
        held = np.array([one.outcome == HOLDS for one in found])
        first[held & (first == 0)] = number
    return first


def holds_through_reference(draw, case, *, worse, margin):
    """Whether each candidate holds; reference and candidates of a day share its rounds."""
    reference = draw.normal(size=case.now)
    now = case.noise * draw.normal(size=(case.candidates, case.now)) - worse - reference
    then = case.then_noise * draw.normal(size=case.then) - draw.normal(size=case.then)
    limits = [partial(joined_by_reference, row, then) for row in now]
    found = welch_checks(limits, margin=margin, alpha=ALPHA, rounds=[case.now] * len(now))
    return [one.outcome == HOLDS for one in found]


def holds_over_samples(draw, case, *, worse, margin):
    """Whether the design of several samples holds, whose mean is worse by so much."""
    levels = draw.normal(scale=case.between, size=(case.samples, 1))
    differences = levels + draw.normal(size=(case.samples, LAST)) - draw.normal(size=LAST) - worse
    limits = [partial(over_samples, differences)]
    (found,) = welch_checks(limits, margin=margin, alpha=ALPHA, rounds=[LAST])
    return [found.outcome == HOLDS]


def wrong(case, trials, seed=1):
    """Of so many checks, those in which some candidate that is one margin worse holds."""
    draw = np.random.default_rng(seed)
    margin = 2.0
    count = 0
    for _ in range(trials):
        if case.once:
            ask = holds_over_samples if case.samples else holds_through_reference
            count += any(ask(draw, case, worse=margin, margin=margin))
            continue
        differences = one_trial(draw, case, worse=margin)
        floor = 1.0 / 6.0 if case.kind == "coarse" else 0.0
        count += bool(holds_in_one_trial(differences, margin=margin, floor=floor).any())
    return count


def power(margin, trials, *, through, seed=2):
    """By round of `POWER_ROUNDS` the share of good candidates that hold."""
    draw = np.random.default_rng(seed)
    if not through:
        firsts = [
            holds_in_one_trial(one_trial(draw, Case(""), worse=0.0), margin=margin)[0] for _ in range(trials)
        ]
        return [float(np.mean([0 < first <= number for first in firsts])) for number in POWER_ROUNDS]
    return [
        float(
            np.mean(
                [
                    holds_through_reference(draw, Case("", now=number, then=6), worse=0.0, margin=margin)[0]
                    for _ in range(trials)
                ]
            )
        )
        for number in POWER_ROUNDS
    ]


def text(trials, counts, powers):
    """The page with both tables."""
    lines = ["| design | wrong |", "| --- | ---: |"]
    rates = [count / simulated(case, trials) for case, count in zip(WRONG, counts, strict=True)]
    lines += [f"| {case.name} | {rate:.4f} |" for case, rate in zip(WRONG, rates, strict=True)]
    heads = " | ".join(str(number) for number in POWER_ROUNDS)
    table = [f"| margin | how | {heads} |", f"| ---: | --- |{' ---: |' * len(POWER_ROUNDS)}"]
    table += [
        f"| {margin} | {'through a reference' if through else 'one trial'} | "
        f"{' | '.join(f'{share:.2f}' for share in shares)} |"
        for (through, margin), shares in powers
    ]
    head = HEAD.format(trials=trials, many=trials * ONCE, command=COMMAND.format(trials=trials))
    shown = head + "\n".join(lines) + "\n" + POWER_HEAD + "\n".join(table) + "\n"
    return shown + few_rounds.page()


def simulated(case, trials):
    """How many checks of a case are simulated where `trials` are of one trial."""
    return trials * ONCE if case.once else trials


def main():
    """Simulate all and write the table."""
    asked = parser(__doc__, trials=2000).parse_args()
    with ProcessPoolExecutor(asked.workers) as pool:
        counts = [pool.submit(wrong, case, simulated(case, asked.trials)) for case in WRONG]
        kinds = [(through, margin) for through in (False, True) for margin in MARGINS]
        shares = [pool.submit(power, margin, asked.trials, through=through) for through, margin in kinds]
        powers = [(kind, one.result()) for kind, one in zip(kinds, shares, strict=True)]
        TABLE.write_text(text(asked.trials, [one.result() for one in counts], powers), encoding="utf-8")


if __name__ == "__main__":
    main()
