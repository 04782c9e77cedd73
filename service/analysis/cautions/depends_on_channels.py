"""`depends-on-channels`: clear over other rounds, but not over other rounds and other channels."""

import numpy as np

from service.analysis.cautions.caution import LEVEL, Caution
from service.analysis.facts import Facts
from service.statistics.channel_pattern import channel_pattern
from service.statistics.intervals import tolerance
from service.statistics.results import CLEAR_WINNER


def depends_on_channels(facts: Facts) -> Caution | None:
    """Raised where the crossed bootstrap of a pair includes 0 under a clear winner, and channels differ.

    The bootstrap reaches 0 as well where a difference alike on all channels is only just clear: up to one
    sound trial in four raised this without a test that the difference changes from channel to channel.
    """
    tol = tolerance(facts.table.scores)
    asked = [
        (pair, drawn)
        for pair, drawn in zip(facts.judgement.pairs, facts.bootstraps, strict=True)
        if drawn is not None and pair.outcome == CLEAR_WINNER
    ]
    pairs = []
    for pair, drawn in asked:
        if drawn.low <= tol and drawn.high >= -tol:
            p_value = _changes_with_channel(facts, pair.first, pair.second, pairs=len(asked))
            names = {"first": facts.ids[pair.first], "second": facts.ids[pair.second]}
            if p_value <= LEVEL:
                pairs.append({**names, "low": drawn.low, "high": drawn.high, "p_value": p_value})
    return Caution("depends-on-channels", "warning", {"pairs": pairs}) if pairs else None


def _changes_with_channel(facts: Facts, first: int, second: int, *, pairs: int) -> float:
    """p that the difference changes from channel to channel by chance, adjusted for the pairs asked."""
    differences = facts.table.cells[first] - facts.table.cells[second]
    differences = differences[np.isfinite(differences).all(axis=1)]
    step = facts.table.resolution or 0.0
    return min(1.0, pairs * channel_pattern(differences, floor=step**2 / 6.0))
