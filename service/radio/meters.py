"""What each meter unit is: its usual scale and step, what is beyond belief, and its usual margin."""

from dataclasses import dataclass

MARGIN_SHARE_OF_SCALE = 0.05


@dataclass(frozen=True)
class UnitRules:
    """What a unit stands for when the trial does not say otherwise.

    `lowest`, `highest` and `resolution` are the unit's usual scale (None: it has none). `least` and `most`
    bound what can be believed of a receiver in this unit, and keep sums finite where a unit has no bound of
    its own. The decibel ranges are common practice for television and radio receivers.
    """

    unit: str
    is_decibel: bool
    least: float
    most: float
    lowest: float | None = None
    highest: float | None = None
    resolution: float | None = None
    margin: float = 1.0
    margin_follows_scale: bool = False

    def default_margin(self, lowest: float | None, highest: float | None) -> float:
        """The margin of a trial that states none: a twentieth of the scale for bars on a bounded scale,
        else the unit's own (0.25 bar, 3 percent, 1 dB)."""
        if self.margin_follows_scale and lowest is not None and highest is not None:
            return MARGIN_SHARE_OF_SCALE * (highest - lowest)
        return self.margin


UNITS: tuple[UnitRules, ...] = (
    UnitRules("bars", False, -1e6, 1e6, lowest=0.0, resolution=1.0, margin=0.25, margin_follows_scale=True),
    UnitRules("percent", False, 0.0, 100.0, lowest=0.0, highest=100.0, resolution=1.0, margin=3.0),
    UnitRules("dB", True, -60.0, 100.0),
    UnitRules("dBuV", True, -20.0, 130.0),
    UnitRules("dBmV", True, -80.0, 80.0),
    UnitRules("dBm", True, -130.0, 30.0),
)
UNIT_NAMES: tuple[str, ...] = tuple(rules.unit for rules in UNITS)


def unit_rules(unit: str) -> UnitRules:
    """The rules of `unit`; raises KeyError for a name that is not in UNIT_NAMES (capitals count)."""
    for rules in UNITS:
        if rules.unit == unit:
            return rules
    raise KeyError(unit)
