"""A baseline run long before the candidate: the reference must have stood still for all that time."""

import pandas as pd

from service.analysis.cautions.caution import Caution
from service.analysis.checks.question import CheckedTrial, Design, Settled

OLD_AFTER_DAYS = 180
"""Half a year: by then joints, plugs and trees have seen the other season. Common practice, no standard."""
_DAY = pd.Timedelta(days=1)


def baseline_old(asked: Settled, place: int) -> Caution | None:
    """Raised where over 180 days lie between the last reading of the baseline and a candidate's first.

    Of the candidates in the trial at `place`; the longest wait counts. Silent where either carries no times,
    and where the candidate was run first.
    """
    baseline = asked.question.baseline
    last = _times(asked.trial_of(baseline), baseline).max()
    firsts = [
        (_times(asked.trials[place], design).min(), design.name)
        for design in asked.question.candidates
        if design.trial == place
    ]
    waits = [(first - last, first, name) for first, name in firsts if pd.notna(first) and pd.notna(last)]
    if not waits or max(waits)[0] <= OLD_AFTER_DAYS * _DAY:
        return None
    wait, first, name = max(waits)
    evidence = {
        "days": wait / _DAY,
        "bound_days": OLD_AFTER_DAYS,
        "baseline": baseline.name,
        "baseline_last_at": _told(last),
        "candidate": name,
        "candidate_first_at": _told(first),
        "reference": asked.reference,
    }
    return Caution("baseline-old", "warning", evidence)


def _times(trial: CheckedTrial, design: Design) -> "pd.Series[pd.Timestamp]":
    rows = trial.facts.rows
    return rows.loc[rows["element"].isin(design.samples), "at"]


def _told(at: pd.Timestamp) -> str:
    """RFC 3339 in UTC."""
    return at.isoformat().replace("+00:00", "Z")
