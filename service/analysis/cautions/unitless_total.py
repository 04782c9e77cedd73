"""`unitless-total`: a total of bars or percents is a sum of scale steps, not a power and not a decibel."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def unitless_total(facts: Facts) -> Caution | None:
    """Raised whenever a total is shown: the unit is bars or percent."""
    if facts.totals is None:
        return None
    return Caution("unitless-total", "note", {"unit": facts.trial.meter.unit})
