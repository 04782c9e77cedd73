"""`at-floor`: readings at the bottom of the scale; what is weaker still looks the same."""

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.scale_ends import at_end
from service.analysis.facts import Facts


def at_floor(facts: Facts) -> Caution | None:
    """Raised where a tenth of all readings, or an RF channel in every run, is at the bottom of the scale."""
    lowest = facts.trial.meter.lowest
    return None if lowest is None else at_end(facts, "at-floor", lambda level: level <= lowest)
