"""`rf-channel-guessed`: names like 27.1 were grouped; a displayed number need not be an RF channel."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def rf_channel_guessed(facts: Facts) -> Caution | None:
    """Raised where a channel was grouped by the first part of its name; lists the groups it came into."""
    guessed = set(facts.carriers.guessed)
    groups = [
        {"rf_channel": name, "channels": list(channels)}
        for name, channels in facts.carriers.groups().items()
        if guessed & set(channels)
    ]
    return Caution("rf-channel-guessed", "warning", {"groups": groups}) if groups else None
