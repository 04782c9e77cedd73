"""`identical-runs`: two runs equal in every cell, as if copied, or never mounted afresh."""

import numpy as np

from service.analysis.cautions.caution import Caution, Severity
from service.analysis.facts import Facts


def identical_runs(facts: Facts) -> Caution | None:
    """Raised where two runs agree on every channel, in level and in what was found at all.

    Names each later run with the first one like it. A note only where a run is one single reading: two of
    those agree easily on a coarse meter.
    """
    by_channel = facts.table.by_channel
    first: dict[bytes, tuple[int, int]] = {}
    pairs = []
    for element, number in np.argwhere(facts.held):
        run = (int(element), int(number))
        key = by_channel.levels[run].tobytes() + by_channel.received[run].tobytes()
        if first.setdefault(key, run) != run:
            pairs.append({"first": _named(facts, first[key]), "second": _named(facts, run)})
    severity: Severity = "note" if len(by_channel.channels) == 1 else "warning"
    return Caution("identical-runs", severity, {"pairs": pairs}) if pairs else None


def _named(facts: Facts, run: tuple[int, int]) -> dict[str, object]:
    return {"element": facts.ids[run[0]], "round": facts.rounds[run[1]]}
