"""The scores by plain loops, for the table to be held against.

Written from the definition: average the scans of a mounting cell by cell, then the channels of an RF channel,
then the RF channels; then the mountings. Each mean: ascending, from left to right, divided by the number.
"""

from collections import defaultdict
from typing import Any


def mean(values: list[float]) -> float:
    """The mean in the promised order."""
    total = 0.0
    for value in sorted(values):
        total += value
    return total / len(values)


def plain_scores(
    made: list[dict[str, Any]], carrier: dict[str, str], lowest: float
) -> tuple[dict[tuple[str, int], float], set[str]]:
    """The score of every run (element, round) of a bounded meter, and the RF channels that entered.

    Rows carry element, round, channel, value and perhaps mounting.
    """
    scans: dict[tuple[str, int, str], dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    for row in made:
        mounting = (row["element"], row["round"], row.get("mounting", ""))
        scans[mounting][row["channel"]].append(lowest if row["value"] is None else row["value"])
    kept = [channel for channel in carrier if all(channel in cells for cells in scans.values())]
    groups: dict[str, list[str]] = defaultdict(list)
    for channel in kept:
        groups[carrier[channel]].append(channel)
    entered = {
        name: members
        for name, members in groups.items()
        if not any(
            all(value == end for cells in scans.values() for channel in members for value in cells[channel])
            for end in (lowest, 10.0)
        )
    }
    scores: dict[tuple[str, int], list[float]] = defaultdict(list)
    for (element, number, _), cells in scans.items():
        levels = [mean([mean(cells[channel]) for channel in members]) for members in entered.values()]
        if levels:
            scores[element, number].append(mean(levels))
    return {run: mean(found) for run, found in scores.items()}, set(entered)
