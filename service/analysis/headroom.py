"""How far each level lies above the one that reception needs."""

import numpy as np

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number


def headroom(facts: Facts) -> list[dict[str, object]] | None:
    """One entry an RF channel: each element's mean level there less the level needed.

    None where the trial does not say what is needed; it can only say so in decibels. On an open scale the
    mean is over the scans that found the channel: where some did not, `reception` tells.
    """
    needed = facts.trial.meter.needed
    if needed is None:
        return None
    place = {name: index for index, name in enumerate(facts.table.by_channel.channels)}
    return [
        {
            "rf_channel": name,
            "elements": [
                _level(facts, element, [place[channel] for channel in channels], needed=needed)
                for element in range(len(facts.ids))
            ],
        }
        for name, channels in facts.carriers.groups().items()
    ]


def _level(facts: Facts, element: int, channels: list[int], *, needed: float) -> dict[str, object]:
    means = facts.table.by_channel.means[element, channels]
    known = means[np.isfinite(means)]
    level = number(known.mean()) if len(known) else None
    return {
        "element": facts.ids[element],
        "level": level,
        "headroom": None if level is None else level - needed,
    }
