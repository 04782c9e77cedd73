"""`shared-rf-channel`: several channels are one transmitted signal and count once."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def shared_rf_channel(facts: Facts) -> Caution | None:
    """Raised where an RF channel carries two channels or more."""
    groups = [
        {"rf_channel": name, "channels": list(channels)}
        for name, channels in facts.carriers.groups().items()
        if len(channels) > 1
    ]
    if not groups:
        return None
    evidence = {
        "groups": groups,
        "channels": len(facts.carriers.of),
        "rf_channels": len(facts.carriers.names),
    }
    return Caution("shared-rf-channel", "note", evidence)
