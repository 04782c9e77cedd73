"""The part of the document that compares the elements band by band, adjusted for nothing."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from service.analysis.facts import Facts
from service.analysis.planned_channels import planned_channels
from service.radio.channel_plan import channel_plan
from service.statistics.results import Floats

FEWEST_ROUNDS = 2
METHOD = "Student's t over rounds, unadjusted"


@dataclass(frozen=True)
class BandPair:
    """Two elements in a band: first - second over so many rounds, with its standard error (None: unknown)."""

    first: str
    second: str
    difference: float | None
    standard_error: float | None
    rounds: int

    def interval(self, level: float) -> tuple[float, float] | None:
        """The interval at a level, adjusted for nothing; None where there are too few rounds."""
        if self.difference is None or self.standard_error is None:
            return None
        reach = float(stdtrit(self.rounds - 1, (1 + level) / 2)) * self.standard_error
        return self.difference - reach, self.difference + reach


@dataclass(frozen=True)
class Band:
    """A band, the RF channels of it that entered the scores, and its pairs."""

    name: str
    rf_channels: tuple[str, ...]
    pairs: tuple[BandPair, ...]


def bands(facts: Facts) -> tuple[Band, ...] | None:
    """The bands of the region that hold an RF channel that entered; None without a region."""
    if facts.trial.region is None:
        return None
    planned = planned_channels(facts)
    members = {
        band: [name for name in facts.table.rf_channels if name in planned and planned[name].band == band]
        for band in channel_plan(facts.trial.region).bands()
    }
    return tuple(_band(facts, band, names) for band, names in members.items() if names)


def bands_document(facts: Facts) -> list[dict[str, object]] | None:
    """The bands as they stand in the analysis document."""
    found = bands(facts)
    return None if found is None else [_document(band, facts.trial.confidence) for band in found]


def _document(band: Band, level: float) -> dict[str, object]:
    return {
        "band": band.name,
        "rf_channels": list(band.rf_channels),
        "pairs": [
            {
                "first": pair.first,
                "second": pair.second,
                "difference": pair.difference,
                "interval": _interval(pair, level),
            }
            for pair in band.pairs
        ],
    }


def _interval(pair: BandPair, level: float) -> dict[str, object] | None:
    ends = pair.interval(level)
    return None if ends is None else {"low": ends[0], "high": ends[1], "level": level, "method": METHOD}


def _band(facts: Facts, name: str, members: Sequence[str]) -> Band:
    columns = [facts.table.rf_channels.index(member) for member in members]
    scores = facts.table.cells[:, :, columns].mean(axis=2)
    # Rounding to the meter's step is the same in every round: no mean over rounds knows it better than this.
    floor = (facts.table.resolution or 0.0) ** 2 / (6 * len(columns))
    pairs = tuple(_pair(facts, scores, names, floor=floor) for names in facts.pairs_of_ids)
    return Band(name, tuple(members), pairs)


def _pair(facts: Facts, scores: Floats, names: tuple[str, str], *, floor: float) -> BandPair:
    first, second = (scores[facts.index(name)] for name in names)
    differences = first - second
    differences = differences[np.isfinite(differences)]
    rounds = len(differences)
    if rounds < FEWEST_ROUNDS:
        return BandPair(*names, float(differences[0]) if rounds else None, None, rounds)
    error = float(np.sqrt(max(differences.var(ddof=1) / rounds, floor)))
    return BandPair(*names, float(differences.mean()), error, rounds)
