"""Readings at an end of the meter's scale, where differences vanish."""

from collections.abc import Callable

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.results import Flags, Floats

MOST_SHARE = 0.1
At = Callable[[Floats], Flags]


def at_end(facts: Facts, code: str, at: At) -> Caution | None:
    """The caution for one end, where a tenth of all readings or a whole RF channel in every run is there.

    `at` tells of levels whether they are at that end. A scan that found nothing counts as the lowest level
    of a bounded meter.
    """
    value = facts.rows["value"].to_numpy(dtype=np.float64)
    lowest = facts.trial.meter.lowest
    level = value if lowest is None else np.where(np.isfinite(value), value, lowest)
    known = np.isfinite(level)
    readings, of = int(at(level[known]).sum()), int(known.sum())
    silent = _always(facts, at)
    if not readings or (readings < MOST_SHARE * of and not silent):
        return None
    evidence = {"readings": readings, "of": of, "share": readings / of, "rf_channels": silent}
    return Caution(code, "warning", evidence)


def _always(facts: Facts, at: At) -> list[str]:
    """The RF channels at that end in every reading: they carry no information."""
    by_channel = facts.table.by_channel
    least, most = by_channel.least, by_channel.most
    known = np.isfinite(least)
    stuck: Flags = np.all((at(least) & at(most)) | ~known, axis=0) & np.any(known, axis=0)
    place = {name: index for index, name in enumerate(by_channel.channels)}
    groups = facts.carriers.groups().items()
    return [name for name, channels in groups if all(stuck[place[channel]] for channel in channels)]
