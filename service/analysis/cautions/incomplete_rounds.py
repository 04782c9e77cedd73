"""`incomplete-rounds`: some rounds lack a run of some element."""

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def incomplete_rounds(facts: Facts) -> Caution | None:
    """Raised where an element has no score in a round; names the runs, and the elements not judged for it."""
    absent = np.argwhere(~facts.held)
    if not len(absent):
        return None
    missing = [{"element": facts.ids[k], "round": facts.rounds[r]} for k, r in absent]
    evidence = {"missing": missing, "not_judged": facts.not_judged}
    return Caution("incomplete-rounds", "warning", evidence)
