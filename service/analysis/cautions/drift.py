"""`drift`: the level moved over the trial by more than the margin."""

from service.analysis.cautions.caution import LEVEL, Caution
from service.analysis.drift import drift as drift_of
from service.analysis.facts import Facts
from service.statistics.intervals import tolerance


def drift(facts: Facts) -> Caution | None:
    """Raised where the trend over the trial is larger than the margin, and more than chance.

    It is that of the reference, without one that of the rounds' levels.
    """
    found = drift_of(facts)
    margin = facts.trial.margin + tolerance(facts.table.scores)
    if found is None or abs(found.over_trial) <= margin or found.trend.p_value > LEVEL:
        return None
    evidence = {
        "element": found.reference,
        "over_trial": found.over_trial,
        "low": found.trend.low * found.length,
        "high": found.trend.high * found.length,
        **found.slopes(),
        "p_value": found.trend.p_value,
        "margin": facts.trial.margin,
    }
    return Caution("drift", "warning", evidence)
