"""`at-ceiling`: readings at the top of the scale; what is stronger still looks the same."""

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.scale_ends import at_end
from service.analysis.facts import Facts


def at_ceiling(facts: Facts) -> Caution | None:
    """Raised where a tenth of all readings, or an RF channel in every run, is at the top of the scale."""
    highest = facts.trial.meter.highest
    return None if highest is None else at_end(facts, "at-ceiling", lambda level: level >= highest)
