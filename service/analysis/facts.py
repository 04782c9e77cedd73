"""All that is known of a trial once it has been judged: what the parts of the document are written from."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from service.analysis.noise import KNOWN_NOISE, EarlyNoise, Noise
from service.radio.meters import unit_rules
from service.statistics.cochran_q import CochranQ, cochran_q
from service.statistics.crossed_bootstrap import BootstrapInterval
from service.statistics.results import Flags, Floats, Judgement
from service.trial.history import History
from service.trial.rf_channels import RfChannels, rf_channels
from service.trial.scores import ScoreTable
from service.trial.trial import Element, Trial


@dataclass(frozen=True)
class Totals:
    """The practitioner's sums over channels, (K,), NaN without a run; `possible` None on an open scale."""

    values: Floats
    possible: float | None


@dataclass(frozen=True)
class Facts:
    """One trial, its scores and its judgement.

    `read_as` is the account of how the readings were understood, rounds and RF channels included; `rows` are
    the readings that count, with rounds; `mountings_by_name` counts each element's mountings; `bootstraps`
    has one entry a pair; `put_back` is the same trial with its struck runs put back, None where nothing is
    struck. `history` is that of a kept trial, whose first plan's schedule is then the trial's; `first_margin`
    is the same trial under the margin of its first plan, None where that did not change.
    """

    trial: Trial
    read_as: Mapping[str, Any]
    rows: pd.DataFrame
    mountings_by_name: Mapping[str, int]
    table: ScoreTable
    judgement: Judgement
    noise: Noise
    early_noise: EarlyNoise
    bootstraps: tuple[BootstrapInterval | None, ...]
    put_back: "Facts | None" = None
    history: History | None = None
    first_margin: "Facts | None" = None

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of the elements, in their order."""
        return self.table.elements

    @property
    def rounds(self) -> tuple[int, ...]:
        """The rounds as the readings number them, ascending."""
        return self.table.rounds

    @property
    def rounds_done(self) -> int:
        """How many rounds hold a run that counts."""
        return len(self.table.rounds)

    @property
    def by_known_noise(self) -> bool:
        """Whether the present look is one by a noise known beforehand, below three rounds."""
        return self.judgement.design == KNOWN_NOISE

    def label(self, number: int | None) -> int | None:
        """The n-th round as the readings number it; rounds still to come are counted on from the last."""
        if number is None or not self.rounds:
            return number
        beyond = number - self.rounds_done
        return self.rounds[-1] + beyond if beyond > 0 else self.rounds[number - 1]

    @cached_property
    def competing(self) -> Flags:
        """Which elements compete, (K,): twins and pads do not."""
        return competing(self.trial)

    @cached_property
    def competing_ids(self) -> tuple[str, ...]:
        """The ids of the elements that compete."""
        return tuple(name for name, competes in zip(self.ids, self.competing, strict=True) if competes)

    @property
    def leader(self) -> str | None:
        """The id of the present leader."""
        leader = self.judgement.leader
        return None if leader is None else self.ids[leader]

    @cached_property
    def held(self) -> Flags:
        """Which runs count, (K, R)."""
        return np.asarray(self.table.mountings > 0)

    @cached_property
    def not_judged(self) -> list[str]:
        """The elements left out of the judgement for want of runs that join them to the others."""
        return [name for name, judged in zip(self.ids, self.judgement.judged, strict=True) if not judged]

    @cached_property
    def pairs_of_ids(self) -> tuple[tuple[str, str], ...]:
        """The ids of each pair, as the judgement orders them."""
        return tuple((self.ids[pair.first], self.ids[pair.second]) for pair in self.judgement.pairs)

    @cached_property
    def carriers(self) -> RfChannels:
        """The RF channel of each channel, and which of them were guessed."""
        return rf_channels(self.trial)

    @cached_property
    def totals(self) -> Totals | None:
        """The totals over channels; None in decibel units, where a sum means nothing."""
        meter = self.trial.meter
        if unit_rules(meter.unit).is_decibel:
            return None
        shared = len(self.table.by_channel.shared_channels())
        possible = None if meter.highest is None else shared * meter.highest
        return Totals(self.table.by_channel.totals(), possible)

    @property
    def rounding_variance(self) -> float:
        """The variance that rounding to the meter's step leaves in a score: q^2 / (12 M)."""
        step, channels = self.table.resolution or 0.0, max(1, len(self.table.rf_channels))
        return step**2 / (12 * channels)

    @cached_property
    def complete(self) -> Flags:
        """Which rounds hold a score of every element judged, (R,); none where no element is judged."""
        scores = self.table.scores[self.judgement.judged]
        return np.asarray(np.isfinite(scores).all(axis=0) & (len(scores) > 0))

    @cached_property
    def cochran_q(self) -> CochranQ:
        """Whether the elements that were run at all receive equally often."""
        return cochran_q(self.received_by_run, seed=self.trial.seed)

    @cached_property
    def received_by_run(self) -> Floats:
        """Reception of the elements that were run at all, (elements, R, RF channels); NaN not scanned."""
        received = self.table.received
        return np.asarray(received[np.isfinite(received).any(axis=(1, 2))])

    @property
    def hours_per_round(self) -> float | None:
        """Hours for one round of all elements; None where the trial does not say how long a run takes."""
        minutes = self.trial.minutes_per_run
        return None if minutes is None else minutes * len(self.ids) / 60

    def received_per_run(self, index: int) -> dict[str, float | None]:
        """Channels and RF channels that an element received in a run, on average over its runs.

        Each counts with its share of the runs that scanned it: what was not scanned was not lost.
        """
        here = self.held[index]
        return {
            "channels_received": _received_per_run(self.table.by_channel.received[index][here]),
            "rf_channels_received": _received_per_run(self.table.received[index][here]),
        }

    def index(self, name: str) -> int:
        """The place of an element among all."""
        return self.ids.index(name)

    def element(self, name: str) -> Element:
        """The element of that id as the trial describes it."""
        return self.trial.elements[self.index(name)]


def _received_per_run(received: Floats) -> float | None:
    """Columns of (runs, columns) received in a run; NaN where not scanned, None without a run."""
    if not len(received):
        return None
    scanned = np.isfinite(received).sum(axis=0)
    return float(np.sum(np.nansum(received, axis=0) / np.maximum(scanned, 1)))


def competing(trial: Trial) -> Flags:
    """Which elements of a trial compete, (K,)."""
    return np.array([element.role == "competes" for element in trial.elements], dtype=bool)
