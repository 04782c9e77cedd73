"""The second criterion: RF channels that the baseline receives in every run and the candidate does not."""

import numpy as np

from service.analysis.checks.question import CheckedTrial, Design, Settled
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS
from service.statistics.results import NEEDS_MORE_RUNS


def reception(asked: Settled, design: Design) -> dict[str, object]:
    """Outcome and what is lost, over RF channels that were scanned with both; unadjusted, no test.

    `needs more runs` where no RF channel was scanned with both.
    """
    then = _counts(asked.trial_of(asked.question.baseline), asked.question.baseline)
    now = _counts(asked.trial_of(design), design)
    both = [name for name, (_, scanned) in then.items() if scanned and now.get(name, (0, 0))[1]]
    steady = [name for name in both if then[name][0] == then[name][1]]
    lost = [name for name in steady if now[name][0] < now[name][1]]
    outcome = FALLS_SHORT if lost else HOLDS if both else NEEDS_MORE_RUNS
    return {
        "outcome": outcome,
        "lost": lost,
        "lost_runs": [
            {"rf_channel": name, "received_runs": now[name][0], "scanned_runs": now[name][1]} for name in lost
        ],
        "compared": len(steady),
        "scanned_with_both": len(both),
    }


def _counts(trial: CheckedTrial, design: Design) -> dict[str, tuple[int, int]]:
    """By RF channel the runs of the design that received it and those that scanned it."""
    table = trial.facts.table
    rows = table.received[[table.elements.index(name) for name in design.samples]]
    received = np.nansum(rows, axis=(0, 1))
    scanned = np.isfinite(rows).sum(axis=(0, 1))
    return {name: (int(received[m]), int(scanned[m])) for m, name in enumerate(table.all_rf_channels)}
