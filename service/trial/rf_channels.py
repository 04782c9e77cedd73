"""Which RF channel carries each channel: as given, guessed from a name like 27.1, or unknown."""

import re
from dataclasses import dataclass

from service.trial.trial import Trial

NUMBERED_NAME = re.compile(r"(\d+)[.-]\d+", re.ASCII)


@dataclass(frozen=True)
class RfChannels:
    """The RF channel of every channel of a trial.

    `names` are the RF channels in the order in which the trial's channels name them first, `of` gives that of
    each channel. `guessed` are the channels that were grouped by the first part of their name (a displayed
    number is not an RF number), `unknown` those that stand alone.
    """

    names: tuple[str, ...]
    of: dict[str, str]
    guessed: tuple[str, ...]
    unknown: tuple[str, ...]

    def groups(self) -> dict[str, tuple[str, ...]]:
        """The channels of each RF channel."""
        members: dict[str, list[str]] = {name: [] for name in self.names}
        for channel, rf_channel in self.of.items():
            members[rf_channel].append(channel)
        return {name: tuple(channels) for name, channels in members.items()}


def rf_channels(trial: Trial) -> RfChannels:
    """The RF channels of the trial's channels, which must hold those of the readings (`with_names_of`).

    A channel whose RF channel nobody gave is grouped with its fellows where its name is like 27.1 or 27-1,
    else it is an RF channel of its own, named as itself (with " alone" behind where another RF channel has
    that name).
    """
    given = {channel.id: channel.rf_channel for channel in trial.channels if channel.rf_channel is not None}
    left = [channel.id for channel in trial.channels if channel.rf_channel is None]
    parts = {name: match[1] for name in left if (match := NUMBERED_NAME.fullmatch(name))}
    taken = set(given.values()) | set(parts.values())
    alone = {name: _free_name(name, taken) for name in left if name not in parts}
    of = {channel.id: (given | parts | alone)[channel.id] for channel in trial.channels}
    return RfChannels(tuple(dict.fromkeys(of.values())), of, tuple(parts), tuple(alone))


def _free_name(name: str, taken: set[str]) -> str:
    while name in taken:
        name += " alone"
    return name
