"""`far-apart`: the runs of one round lie hours apart, so that the site may have changed between them."""

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.analysis.run_times import run_times

LONGEST_HOURS = 2.0
TIMES_AS_LONG = 2.0


def far_apart(facts: Facts) -> Caution | None:
    """Raised where the first and the last run of a round begin over two hours apart.

    Where the trial says how long a run takes, twice the time that a round needs is allowed too.
    """
    begin = np.ma.masked_invalid(run_times(facts).begin)
    hours = np.ma.filled(np.ma.ptp(begin, axis=0), 0.0)
    allowed = max(LONGEST_HOURS, TIMES_AS_LONG * (facts.hours_per_round or 0.0))
    rounds = [
        {"round": label, "hours": float(apart)}
        for label, apart in zip(facts.rounds, hours, strict=True)
        if apart > allowed * (1 + 1e-9)
    ]
    if not rounds:
        return None
    return Caution("far-apart", "warning", {"rounds": rounds, "allowed_hours": allowed})
