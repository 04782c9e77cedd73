"""What a plan is about: the trial to come, and what was run of it already."""

from dataclasses import dataclass

import numpy as np

from service.statistics.intervals import tolerance
from service.statistics.least_squares import fit
from service.statistics.results import KnownNoise
from service.trial.readings_table import Readings
from service.trial.rf_channels import RfChannels, rf_channels
from service.trial.rounds import assign_rounds
from service.trial.scores import ScoreTable, score_table
from service.trial.trial import Element, Trial

KNOWN, SO_FAR, UNKNOWN = "known repeatability", "readings so far", "not known"
FEWEST_FREEDOM = 4
"""Degrees of freedom from which the readings so far tell the noise."""


@dataclass(frozen=True)
class SoFar:
    """What was run already.

    rounds_done: rounds that hold every element; rounds_held: all rounds with a run; next_round: the number of
    the first round to come, past every round that was begun, struck ones included; missing: element and round
    of the runs that rounds lack; sd: run-to-run, with its degrees of freedom; table: the scores so far, None
    where no run counts.
    """

    rounds_done: int = 0
    rounds_held: int = 0
    next_round: int = 1
    missing: tuple[tuple[str, int], ...] = ()
    sd: float | None = None
    degrees_of_freedom: int = 0
    table: ScoreTable | None = None


NOTHING_YET = SoFar()


def so_far(trial: Trial, readings: Readings) -> SoFar:
    """What the readings hold of the trial, which names all that they name; struck runs are missing."""
    frame = assign_rounds(readings).frame
    table = score_table(trial, frame)
    held = table.mountings > 0
    next_round = 1 + int(frame["round"].max()) if len(frame) else 1
    if not table.rounds:
        return SoFar(next_round=next_round)
    sd, freedom = _noise(table)
    return SoFar(
        rounds_done=int(held.all(axis=0).sum()),
        rounds_held=len(table.rounds),
        next_round=next_round,
        missing=tuple(
            (table.elements[k], table.rounds[r]) for r, k in zip(*np.nonzero(~held.T), strict=True)
        ),
        sd=sd,
        degrees_of_freedom=freedom,
        table=table,
    )


def _noise(table: ScoreTable) -> tuple[float | None, int]:
    """The residual sd of the rounds that hold every element; None where they are too few or show none."""
    scores = table.scores[:, np.isfinite(table.scores).all(axis=0)]
    if min(scores.shape) < 2:
        return None, 0
    fitted = fit(scores)
    freedom = fitted.degrees_of_freedom
    sd = float(np.sqrt(fitted.residual_ss / freedom)) if freedom >= FEWEST_FREEDOM else 0.0
    return (sd, freedom) if sd > tolerance(scores) else (None, 0)


@dataclass(frozen=True)
class PlanFacts:
    """A plan of so many rounds to come for so many elements, of which some compete."""

    trial: Trial
    so_far: SoFar
    rounds: int
    elements: int
    competing: int

    @property
    def rounds_held(self) -> int:
        """Rounds with a run already."""
        return self.so_far.rounds_held

    @property
    def total(self) -> int:
        """Complete rounds once the plan is done."""
        return self.so_far.rounds_done + self.rounds

    @property
    def carriers(self) -> RfChannels:
        """The RF channel of each channel that the trial names."""
        return rf_channels(self.trial)

    @property
    def known(self) -> KnownNoise | None:
        """The repeatability known beforehand."""
        known = self.trial.known_repeatability
        return None if known is None else KnownNoise(known.sd, known.degrees_of_freedom)

    @property
    def sd(self) -> float | None:
        """The run-to-run sd in meter units; None where nothing tells it."""
        known = self.known
        return self.so_far.sd if known is None else known.sd

    @property
    def sd_from(self) -> str:
        """What tells the sd."""
        if self.known is not None:
            return KNOWN
        return UNKNOWN if self.so_far.sd is None else SO_FAR

    @property
    def competing_ids(self) -> tuple[str, ...]:
        """The ids of the elements that compete."""
        return tuple(one.id for one in self.trial.elements if one.role == "competes")

    def element(self, name: str) -> Element:
        """The element of that id."""
        return next(one for one in self.trial.elements if one.id == name)
