"""`rf-channel-unknown`: nobody said which signal carries a channel, so it counts as one of its own."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def rf_channel_unknown(facts: Facts) -> Caution | None:
    """Raised where a channel has no RF channel and no name to guess it from."""
    unknown = list(facts.carriers.unknown)
    return Caution("rf-channel-unknown", "warning", {"channels": unknown}) if unknown else None
