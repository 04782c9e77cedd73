"""The date of a trial: the middle of the runs that its difference is made of."""

import numpy as np
import pandas as pd

from service.analysis.facts import Facts
from service.analysis.run_times import run_times


def date_of(facts: Facts, element: str, reference: str) -> pd.Timestamp | None:
    """The mean time of the runs of both elements in the rounds that hold both, to the second, in UTC.

    Runs without a time are passed over; None where no run has one.
    """
    both = [facts.index(element), facts.index(reference)]
    middle = run_times(facts).middle[both][:, facts.held[both].all(axis=0)]
    timed = middle[np.isfinite(middle)]
    if not timed.size:
        return None
    first: pd.Timestamp = facts.rows["at"].min()
    return (first + pd.Timedelta(hours=float(timed.mean()))).round("s")
