"""`one-round`: a single go through the elements, which no test can weigh."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def one_round(facts: Facts) -> Caution | None:
    """Raised where there is one round: every element was put on once, or within that round several times.

    A note only where the noise is known beforehand and the round can be judged by it.
    """
    if facts.rounds_done != 1:
        return None
    evidence = {
        "rounds_done": 1,
        "fewest_rounds": facts.judgement.fewest_rounds,
        "known_noise": facts.by_known_noise,
        "most_mountings": int(facts.table.mountings.max()),
    }
    return Caution("one-round", "note" if facts.by_known_noise else "warning", evidence)
