"""`not-connected`: no chain of shared rounds joins two elements, so nothing compares them."""

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.least_squares import joined


def not_connected(facts: Facts) -> Caution | None:
    """Raised where the elements that were run fall into groups that share no round with one another.

    A difference between two such groups is that of the elements and of the rounds at once.
    """
    run = np.flatnonzero(facts.held.any(axis=1))
    group = joined(facts.held[run])
    numbers = list(dict.fromkeys(group.tolist()))
    if len(numbers) < 2:
        return None
    groups = [
        [facts.ids[k] for k, own in zip(run, group, strict=True) if own == number] for number in numbers
    ]
    return Caution("not-connected", "warning", {"groups": groups})
