"""`one-rf-channel`: the whole verdict rests on a single transmitted signal."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def one_rf_channel(facts: Facts) -> Caution | None:
    """Raised where just one RF channel entered the level analysis."""
    if len(facts.table.rf_channels) != 1:
        return None
    return Caution("one-rf-channel", "warning", {"rf_channel": facts.table.rf_channels[0]})
