"""The words that follow what is compared (`compares`) and what the meter shows (`meter.unit`)."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Things:
    """What is compared: one of them, many, what is done to each for a run, and how that is done anew.

    `afresh` and `again` are orders to the reader ("put each element on afresh"), `repeated` is a fact ("the
    same element is taken off and put on again").
    """

    one: str
    many: str
    done: str
    afresh: str
    repeated: str
    again: str


@dataclass(frozen=True)
class Unit:
    """What the meter shows: how a level and a difference are written, and what the unit is not."""

    level: str
    one: str
    many: str
    name: str
    is_not: str


THINGS: Final = {
    "element": Things(
        one="element",
        many="elements",
        done="put on",
        afresh="put each element on afresh",
        repeated="the same element is taken off and put on again",
        again="take {name} off and put it on again",
    ),
    "height": Things(
        one="height",
        many="heights",
        done="set",
        afresh="set each height afresh",
        repeated="the same height is left and set again",
        again="leave {name} and set it again",
    ),
    "aim": Things(
        one="aim",
        many="aims",
        done="set",
        afresh="set each aim afresh",
        repeated="the same aim is left and set again",
        again="turn away from {name} and set it again",
    ),
    "site": Things(
        one="site",
        many="sites",
        done="visited",
        afresh="set up at each site afresh",
        repeated="the antenna leaves a site and is set up there again",
        again="take the antenna away from {name} and set it up there again",
    ),
    "cable": Things(
        one="cable",
        many="cables",
        done="connected",
        afresh="connect each cable afresh",
        repeated="the same cable is taken off and connected again",
        again="take {name} off and connect it again",
    ),
    "transformer": Things(
        one="transformer",
        many="transformers",
        done="connected",
        afresh="connect each transformer afresh",
        repeated="the same transformer is taken off and connected again",
        again="take {name} off and connect it again",
    ),
    "joint": Things(
        one="joint",
        many="joints",
        done="made",
        afresh="make each joint afresh",
        repeated="the same joint is undone and made again",
        again="undo {name} and make it again",
    ),
}

_NO_DECIBEL = (
    "It is a step of this meter's own scale, not a decibel: it says neither how much stronger a signal is, "
    "nor anything of gain or efficiency."
)
_LEVEL = "It is a level at this meter's socket, cable and all: not field strength, gain or efficiency."

UNITS: Final = {
    "bars": Unit("bars", "bar", "bars", "bars (the meter's own scale)", _NO_DECIBEL),
    "percent": Unit(
        "%", "percentage point", "percentage points", "per cent of the meter's scale", _NO_DECIBEL
    ),
    "dB": Unit(
        "dB",
        "dB",
        "dB",
        "dB (a signal-to-noise ratio, or a level against a fixed one)",
        "It is what this meter shows in decibels: not gain or efficiency, and not field strength.",
    ),
    "dBuV": Unit("dB\N{MICRO SIGN}V", "dB", "dB", "dB over one microvolt", _LEVEL),
    "dBmV": Unit("dBmV", "dB", "dB", "dB over one millivolt", _LEVEL),
    "dBm": Unit("dBm", "dB", "dB", "dB over one milliwatt", _LEVEL),
}
UNITLESS: Final = frozenset({"bars", "percent"})
