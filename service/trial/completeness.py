"""Who is missing where, and which runs to repeat when too little is left to compare on."""

from collections import Counter

import numpy as np

from service.trial.level_channels import SAME_END
from service.trial.scores import ScoreTable

Run = tuple[str, int]


def missing_runs(table: ScoreTable) -> tuple[Run, ...]:
    """The runs (element, round) that the table has no score place for, in order of element and round."""
    holes = np.argwhere(table.mountings == 0)
    return tuple((table.elements[element], table.rounds[number]) for element, number in holes)


def fewer_than_half_left(table: ScoreTable) -> bool:
    """Whether fewer than half of the RF channels entered the level analysis."""
    return 2 * len(table.rf_channels) < len(table.all_rf_channels)


def runs_to_repeat(table: ScoreTable) -> tuple[Run, ...]:
    """Where fewer than half are left, the runs that cost RF channels their place, the costliest first.

    RF channels at one end of the scale throughout are not counted: repeating would not bring them in.
    """
    if not fewer_than_half_left(table):
        return ()
    costs = Counter(run for left in table.left_out if left.why != SAME_END for run in left.runs)
    order = {element: index for index, element in enumerate(table.elements)}
    return tuple(sorted(costs, key=lambda run: (-costs[run], order[run[0]], run[1])))
