"""Channel plans: from the number of an RF channel to its edges, centre, band and wavelength.

One file a region in `plans/`, with its source, the status of that source and the date it was entered here. A
displayed (virtual) number is not an RF channel number, and nothing here takes one for the other.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

from service.radio.constants import wavelength_m

REGIONS = ("north_america", "europe", "australia", "japan")


@dataclass(frozen=True)
class PlannedChannel:
    """One RF channel of a plan; `rf_channel` is a text, for not all are numbers (9A)."""

    rf_channel: str
    low_mhz: float
    high_mhz: float
    centre_mhz: float
    band: str

    @property
    def wavelength_m(self) -> float:
        """The wavelength at the centre."""
        return wavelength_m(self.centre_mhz)

    def document(self) -> dict[str, object]:
        """The channel, JSON-ready."""
        return {
            "rf_channel": self.rf_channel,
            "low_mhz": self.low_mhz,
            "high_mhz": self.high_mhz,
            "centre_mhz": self.centre_mhz,
            "band": self.band,
            "wavelength_m": self.wavelength_m,
        }


@dataclass(frozen=True)
class ChannelPlan:
    """The plan of a region; `reserved` are numbers that carry no broadcasting, with what they carry."""

    id: str
    title: str
    source: str
    status: str
    edition: str
    date: str
    cautions: tuple[str, ...]
    channels: tuple[PlannedChannel, ...]
    reserved: Mapping[str, str]

    def channel(self, rf_channel: str) -> PlannedChannel | None:
        """The channel of that number, capitals and leading zeros aside; None for one that is not known."""
        wanted = _plain(rf_channel)
        return next((found for found in self.channels if found.rf_channel == wanted), None)

    def bands(self) -> tuple[str, ...]:
        """The bands, in the order of frequency."""
        return tuple(dict.fromkeys(channel.band for channel in self.channels))

    def known(self) -> str:
        """The numbers there are, in words: "5 to 12, 21 to 48"."""
        runs: list[list[str]] = []
        for channel in self.channels:
            name = channel.rf_channel
            follows = bool(runs) and name.isdigit() and runs[-1][-1].isdigit()
            if follows and int(name) == int(runs[-1][-1]) + 1:
                runs[-1].append(name)
            else:
                runs.append([name])
        return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)

    def refusal(self, rf_channel: str) -> str:
        """Why a number is refused, and what is known."""
        carries = self.reserved.get(_plain(rf_channel))
        why = f"is no broadcasting channel ({carries})" if carries else "is no RF channel"
        return (
            f"{rf_channel} {why} of the region {self.id}; known are {self.known()}. A displayed number is "
            "not an RF channel number: look the RF channel up in the tuner's details."
        )

    def heading(self) -> dict[str, object]:
        """What the plan is and how far it can be trusted, JSON-ready."""
        return {
            "id": self.id,
            "title": self.title,
            "source": self.source,
            "status": self.status,
            "edition": self.edition,
            "date": self.date,
        }

    def document(self) -> dict[str, object]:
        """The whole plan, JSON-ready."""
        return {
            **self.heading(),
            "cautions": list(self.cautions),
            "channels": [channel.document() for channel in self.channels],
        }


@cache
def channel_plan(region: str) -> ChannelPlan:
    """The plan of a region; KeyError for one that is not in REGIONS."""
    if region not in REGIONS:
        raise KeyError(region)
    text = files("service.radio").joinpath("plans", f"{region}.toml").read_text(encoding="utf-8")
    plan = tomllib.loads(text)
    return ChannelPlan(
        id=plan["id"],
        title=plan["title"],
        source=plan["source"],
        status=plan["status"],
        edition=plan["edition"],
        date=plan["date"].isoformat(),
        cautions=tuple(plan["cautions"]),
        channels=tuple(channel for block in plan["blocks"] for channel in _channels(block)),
        reserved=plan.get("reserved", {}),
    )


def _channels(block: Mapping[str, Any]) -> Iterator[PlannedChannel]:
    """The channels of a block: a run of numbers, or a single one with a name."""
    names = [block["name"]] if "name" in block else range(block["first"], block["last"] + 1)
    width = block["width_mhz"]
    above = Fraction(block.get("centre_above_middle_mhz", 0))
    for place, name in enumerate(names):
        low = block["low_mhz"] + width * place
        centre = low + Fraction(width, 2) + above
        yield PlannedChannel(str(name), float(low), float(low + width), float(centre), block["band"])


def _plain(rf_channel: str) -> str:
    return rf_channel.strip().upper().lstrip("0")
