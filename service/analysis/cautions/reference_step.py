"""`reference-step`: the element that is never touched read differently from some round on."""

import numpy as np

from service.analysis.cautions.caution import LEVEL, Caution
from service.analysis.facts import Facts
from service.statistics.level_shift import level_shift


def reference_step(facts: Facts) -> Caution | None:
    """Raised where the reference's scores make a step between two rounds that their noise does not explain.

    At least two rounds must lie before it and two after it: a single run out of line is no step.
    """
    reference = facts.trial.reference
    if reference is None:
        return None
    scores = facts.table.scores[facts.index(reference)]
    held = np.flatnonzero(np.isfinite(scores))
    found = level_shift(scores[held], least_variance=facts.rounding_variance)
    if found is None or found.p_value > LEVEL:
        return None
    evidence = {
        "element": reference,
        "last_before": facts.rounds[held[found.before - 1]],
        "first_after": facts.rounds[held[found.before]],
        "step": found.shift,
        "sd": found.sd,
        "p_value": found.p_value,
    }
    return Caution("reference-step", "warning", evidence)
