"""`one-rf-channel-decides`: elements differ in what they receive, but on a single RF channel."""

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.cochran_q import cochran_q
from service.statistics.results import Flags, Floats


def one_rf_channel_decides(facts: Facts) -> Caution | None:
    """Raised where reception differs by more than chance, and no longer does without one RF channel.

    Chance is weighed as in the reception part: Cochran's Q, at the trial's confidence.
    """
    alpha, p_value = 1.0 - facts.trial.confidence, facts.cochran_q.p_value
    received = facts.received_by_run
    if p_value is None or p_value > alpha or _scanned(received).sum() < 2:
        return None
    decisive = _weightiest(received)
    without = cochran_q(np.delete(received, decisive, axis=2), seed=facts.trial.seed).p_value
    if without is not None and without <= alpha:
        return None
    evidence = {
        "rf_channel": facts.table.all_rf_channels[decisive],
        "elements": _elements(facts, decisive),
        "p_value": p_value,
        "p_value_without": without,
    }
    return Caution("one-rf-channel-decides", "warning", evidence)


def _scanned(received: Floats) -> Flags:
    """Which RF channels were scanned with every element in some round, (M,)."""
    return np.asarray(np.isfinite(received).all(axis=0).any(axis=0))


def _weightiest(received: Floats) -> int:
    """The RF channel without which the elements' counts lie closest together."""
    scanned = np.isfinite(received).all(axis=0)
    counts = np.where(scanned, received, 0.0).sum(axis=1)
    without = counts.sum(axis=1, keepdims=True) - counts
    return int(np.argmin(without.var(axis=0)))


def _elements(facts: Facts, rf_channel: int) -> list[dict[str, object]]:
    """In how many of the rounds scanned each element received it."""
    cells = facts.table.received[:, :, rf_channel]
    return [
        {
            "element": name,
            "received_rounds": int(np.nansum(row)),
            "scanned_rounds": int(np.isfinite(row).sum()),
        }
        for name, row in zip(facts.ids, cells, strict=True)
    ]
