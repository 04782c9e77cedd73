"""Whether enough is left to compare on, and which runs to repeat where it is not."""

from collections import Counter

from service.trial.scores import ScoreTable

Run = tuple[str, int]


def fewer_than_half_left(table: ScoreTable) -> bool:
    """Whether fewer than half of the RF channels entered the level analysis."""
    return 2 * len(table.rf_channels) < len(table.all_rf_channels)


def runs_to_repeat(table: ScoreTable) -> tuple[Run, ...]:
    """Where fewer than half are left, the runs that cost RF channels their place, the costliest first.

    RF channels at one end of the scale throughout name no runs: repeating would not bring them in.
    """
    if not fewer_than_half_left(table):
        return ()
    costs = Counter(run for left in table.left_out for run in left.runs)
    order = {element: index for index, element in enumerate(table.elements)}
    return tuple(sorted(costs, key=lambda run: (-costs[run], order[run[0]], run[1])))
