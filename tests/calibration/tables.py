"""The tables of the calibration study, from the counts of its designs."""

import json
from collections.abc import Mapping, Sequence

from tests.calibration.courses import line
from tests.calibration.designs import ALL_EQUAL, TIED, Design
from tests.calibration.rates import Rates, most_allowed

COMMAND = "python -m tests.calibration.study --trials {trials} --workers 2 --parts FOLDER"
GROUPS = {
    "noise": "Within the promise: noises and numbers of elements",
    "power": "How often the best is named",
    "many elements": "Ten elements and more",
    "plans": "Other confidences, other plans",
    "beyond": "Beyond the promise: unequal and skewed noise, drift inside rounds",
    "strikes": "Beyond the promise: a run struck between looks (errors alone are counted)",
    "gaps": "Beyond the promise: unequal rounds with unequal noise",
}
COLUMNS = {
    "pair called": "false_calls",
    "winner": "false_winners",
    "within": "false_within",
    "trial within": "trial_false_within",
    "missed": "missed",
    "ever missed": "ever_missed",
    "leader's missed": "leader_missed",
    "each of them": "leader_single",
    "named by plan": "named_by_plan",
    "named": "named",
}
PROMISED = (
    "false_calls",
    "false_winners",
    "false_within",
    "trial_false_within",
    "missed",
    "ever_missed",
    "leader_single",
)
HEAD = """# Error rates, measured

{trials} simulated trials a design; after every round from the third to the twelfth the rule is asked, with a
plan of six rounds and a confidence of 0.95 unless the name says otherwise. What a look once said counts as
an error whatever later looks say. The noise is invented; standard deviations (sd) are from run to run.
Made by

```
{command}
```

`tests/calibration/test_study.py` holds a second run of every design against this table, both ways.

| column | share of the trials in which |
|---|---|
| pair called | some pair was called that is equal, or called the wrong way round |
| winner | a winner of the trial was named that is not the best alone |
| within | some pair was called `within noise` that differs by the margin or more |
| trial within | the trial came out `within noise` with the leader a margin or more from one of those meant |
| missed | at the last look some interval of the pair table leaves out the true difference |
| ever missed | at some look some interval of the pair table leaves out the true difference |
| leader's missed | at the last look some interval of the leader leaves out the true difference |
| each of them | the same of each single interval of the leader: these are promised one by one |
| named by plan, named | the best alone was named by the planned round, by the last |
| most | what chance allows in 999 of 1000 studies if the true rate is the promised one |

The first six kinds and `each of them` are held to the promise; a count beyond `most` is marked `over`.
"""


def results(every: Sequence[Design], counts: Mapping[str, Rates], command: str) -> str:
    """The counts as a Markdown document; a rate above what chance allows of the promise is marked."""
    trials = next(iter(counts.values())).trials
    parts = [HEAD.format(trials=trials, command=command)]
    for group, title in GROUPS.items():
        here = [design for design in every if design.group == group]
        parts += [f"\n## {title}\n", _head(), *(_row(design, counts[design.key]) for design in here)]
    return "\n".join([*parts, ""])


def over(design: Design, counts: Rates) -> list[str]:
    """Which errors are more than chance allows of the promise."""
    if design.promise is None:
        return []
    most = most_allowed(design.promise, counts.trials) / counts.trials
    return [name for name in PROMISED if _share(design, counts, name) > most]


def error_rates(every: Sequence[Design], counts: Mapping[str, Rates], command: str) -> str:
    """What the reports print, as JSON: designs in which some or all elements share the best place."""
    shown = [design for design in every if design.truth in (ALL_EQUAL, TIED) and design.group != "plans"]
    rows = [_for_reports(design, counts[design.key]) for design in shown]
    kept = {
        "made_by": command,
        "trials": next(iter(counts.values())).trials,
        "rows": [row for design, row in zip(shown, rows, strict=True) if design.promise is not None],
        "beyond": [row for design, row in zip(shown, rows, strict=True) if design.promise is None],
    }
    return json.dumps(kept, indent=1) + "\n"


def _for_reports(design: Design, counts: Rates) -> dict[str, object]:
    promise = 0.05 if design.promise is None else design.promise
    most = most_allowed(promise, counts.trials)
    return {
        "noise": design.name,
        "truth": design.truth,
        "elements": design.elements,
        "pair_falsely_called": counts.false_calls / counts.trials,
        "winner_falsely_named": counts.false_winners / counts.trials,
        "promise": promise,
        "within_promise": max(counts.false_calls, counts.false_winners) <= most,
    }


def _head() -> str:
    names = ["noise", "truth", "elements", "promise", *COLUMNS, "most", ""]
    return "\n".join([line(names), "|" + "---|" * len(names)])


def _row(design: Design, counts: Rates) -> str:
    shares = [f"{_share(design, counts, name):.4f}" for name in COLUMNS.values()]
    promise, most = "none", ""
    if design.promise is not None:
        promise = f"{design.promise:.2f}"
        most = f"{most_allowed(design.promise, counts.trials) / counts.trials:.4f}"
    mark = "over" if over(design, counts) else ""
    return line([design.name, design.truth, str(design.elements), promise, *shares, most, mark])


def _share(design: Design, counts: Rates, name: str) -> float:
    """Of all trials; of the leader's single intervals, of which a trial has one less than elements."""
    of = counts.trials * (design.elements - 1 if name == "leader_single" else 1)
    return float(getattr(counts, name) / of)
