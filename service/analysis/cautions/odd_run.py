"""`odd-run`: one run is out of line with all the others, as after a knocked aim or with a loose joint."""

import numpy as np
from numpy.typing import NDArray

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.odd_cell import OddCell, odd_cell

# Stricter than the others: sound noise has long tails now and then, and a name tempts to strike the run.
SELDOM = 0.002


def odd_run(facts: Facts) -> Caution | None:
    """Raised where a run lies further from what the other runs lead to expect than their noise explains.

    Of two elements both are named: their difference does not tell whose run it was.
    """
    judged = np.flatnonzero(facts.judgement.judged)
    used = _used(facts)
    found = furthest_run(facts)
    if found is None or found.p_value > SELDOM:
        return None
    evidence = {
        "runs": [{"element": facts.ids[judged[k]], "round": facts.rounds[used[r]]} for k, r in found.cells],
        "deviation": found.deviation,
        "sd": found.sd,
        "p_value": found.p_value,
    }
    return Caution("odd-run", "warning", evidence)


def furthest_run(facts: Facts) -> OddCell | None:
    """The run furthest out of line: (element, round) places among those judged and the rounds they use."""
    used = _used(facts)
    if not used.size:
        return None
    scores = facts.table.scores[facts.judgement.judged][:, used]
    return odd_cell(scores, least_variance=facts.rounding_variance)


def _used(facts: Facts) -> NDArray[np.intp]:
    """The rounds, as places, in which an element that is judged has a score."""
    return np.flatnonzero(np.isfinite(facts.table.scores[facts.judgement.judged]).any(axis=0))
