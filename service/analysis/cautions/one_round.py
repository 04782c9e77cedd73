"""`one-round`: a single go through the elements, which no test can weigh."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def one_round(facts: Facts) -> Caution | None:
    """Raised where there is one round: every element was put on once."""
    if facts.rounds_done != 1:
        return None
    evidence = {"rounds_done": 1, "fewest_rounds": facts.judgement.fewest_rounds}
    return Caution("one-round", "warning", evidence)
