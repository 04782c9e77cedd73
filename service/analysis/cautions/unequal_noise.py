"""`unequal-noise`: one element moves more from round to round than the others."""

import numpy as np

from service.analysis.cautions.caution import LEVEL, Caution, stop
from service.analysis.cautions.odd_run import furthest_run
from service.analysis.facts import Facts
from service.statistics.noisiest import noisiest
from service.statistics.results import Flags

MOST_TIMES = 3.0


def unequal_noise(facts: Facts) -> Caution | None:
    """Raised where one element's run-to-run noise stands out; stops its pairs beyond three times the others'.

    To three times the promised error rates hold, beyond that they are not known to. Over the rounds that hold
    every element judged, less that of a run that seems out of line: one run is no noise. Of two elements
    only the difference counts, and its test does not ask whose noise it is.
    """
    judged = [name for name in facts.ids if name not in facts.not_judged]
    rounds = _steady_rounds(facts)
    scores = facts.table.scores[facts.judgement.judged][:, rounds]
    found = noisiest(scores, least_variance=facts.rounding_variance)
    if found is None or found.p_value > LEVEL:
        return None
    name = judged[found.element]
    evidence = {
        "element": name,
        "sd": found.sd,
        "others_sd": found.others_sd,
        "times": found.times,
        "most_times": MOST_TIMES,
        "p_value": found.p_value,
        "rounds": [label for label, counts in zip(facts.rounds, rounds, strict=True) if counts],
    }
    if found.times <= MOST_TIMES:
        return Caution("unequal-noise", "warning", evidence)
    touched = {pair for pair in facts.pairs_of_ids if name in pair}
    return stop(facts, "unequal-noise", evidence=evidence, touched=touched)


def _steady_rounds(facts: Facts) -> Flags:
    """The rounds that count, (R,)."""
    rounds, odd = facts.complete.copy(), furthest_run(facts)
    if odd is not None and odd.p_value <= LEVEL:
        used = np.isfinite(facts.table.scores[facts.judgement.judged]).any(axis=0)
        rounds[np.flatnonzero(used)[odd.cells[0][1]]] = False
    return rounds
