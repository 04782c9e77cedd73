"""Where the RF channels of a trial lie, as far as its region tells."""

from service.analysis.facts import Facts
from service.radio.channel_plan import PlannedChannel, channel_plan


def planned_channels(facts: Facts) -> dict[str, PlannedChannel]:
    """Each RF channel that somebody stated and that the region's plan knows, by its name in the trial.

    Empty without a region. RF channels guessed from displayed numbers, or taken from the name of a channel
    that stands alone, are left out: a displayed number is no RF channel number.
    """
    if facts.trial.region is None:
        return {}
    plan = channel_plan(facts.trial.region)
    unstated = {*facts.carriers.guessed, *facts.carriers.unknown}
    groups = facts.carriers.groups()
    stated = [name for name, channels in groups.items() if not set(channels) <= unstated]
    found = {name: plan.channel(name) for name in stated}
    return {name: channel for name, channel in found.items() if channel is not None}
