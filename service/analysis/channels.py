"""The part of the document that lists the channels."""

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.analysis.planned_channels import planned_channels


def channels(facts: Facts) -> list[dict[str, object]]:
    """One entry a channel, in the trial's order: its RF channel, and each element's mean and range there."""
    where = planned_channels(facts)
    return [
        {
            "id": name,
            "rf_channel": facts.carriers.of[name],
            "band": None if (planned := where.get(facts.carriers.of[name])) is None else planned.band,
            "elements": [_reading(facts, element, place) for element in range(len(facts.ids))],
        }
        for place, name in enumerate(facts.table.by_channel.channels)
    ]


def _reading(facts: Facts, element: int, channel: int) -> dict[str, object]:
    by_channel = facts.table.by_channel
    return {
        "element": facts.ids[element],
        "mean": number(by_channel.means[element, channel]),
        "low": number(by_channel.least[element, channel]),
        "high": number(by_channel.most[element, channel]),
    }
