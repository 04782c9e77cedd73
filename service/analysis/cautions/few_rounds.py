"""`few-rounds`: more than one round, but fewer than planned or than the rule needs to decide anything."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def few_rounds(facts: Facts) -> Caution | None:
    """A warning below the fewest rounds at which a decision is possible, a note below the plan."""
    done, planned, fewest = facts.rounds_done, facts.trial.planned_rounds, facts.judgement.fewest_rounds
    too_few = fewest is not None and done < fewest
    if done < 2 or not (too_few or done < planned):
        return None
    evidence = {
        "rounds_done": done,
        "planned_rounds": planned,
        "fewest_rounds": fewest,
        "known_noise": facts.by_known_noise,
    }
    return Caution("few-rounds", "warning" if too_few else "note", evidence)
