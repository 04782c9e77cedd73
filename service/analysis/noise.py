"""How far two mountings of one element differ by themselves: told by this trial, from elsewhere, or both."""

from dataclasses import dataclass

import numpy as np

from service.statistics.intervals import tolerance
from service.statistics.known_noise import (
    ANOTHER_DAY,
    BELOW_ROUNDS,
    PooledNoise,
    left_over,
    pooled_noise,
    repeated_mountings,
    single_mountings,
)
from service.statistics.repeatability import LIMIT_FACTOR, repeatability
from service.statistics.results import Floats, Judgement, KnownNoise, Repeats

KNOWN_NOISE = "one round, known noise"
THIS_TRIAL, KNOWN, BOTH = "this trial", "known", "both"


@dataclass(frozen=True)
class Noise:
    """Repeatability of one mounting in meter units of the score; all None where nothing tells it.

    `source` is "this trial", "known" (the trial brought it along) or "both" (pooled). `run_sd` is that of a
    run, the mean of its mountings: the same where a run is one mounting.
    """

    sd: float | None = None
    degrees_of_freedom: float | None = None
    icc: float | None = None
    source: str | None = None
    run_sd: float | None = None

    def document(self) -> dict[str, object]:
        """The repeatability part of the document; the limit is 2.8 sd (ISO 5725-6)."""
        return {
            "sd": self.sd,
            "limit": None if self.sd is None else LIMIT_FACTOR * self.sd,
            "degrees_of_freedom": self.degrees_of_freedom,
            "icc": self.icc,
            "from": self.source,
        }


@dataclass(frozen=True)
class EarlyNoise:
    """What is known of the noise below three rounds: degrees of freedom given, and repeated in this trial.

    `noise` is the one that the verdict rests on after so many `rounds`, both None where it rests on rounds.
    """

    noise: Noise | None
    rounds: int | None
    given: float
    repeated: int

    @property
    def freedom(self) -> float:
        """All degrees of freedom; from 9 on they can carry a verdict."""
        return self.given + self.repeated


def noise(
    scores: Floats, judgement: Judgement, *, known: KnownNoise | None, repeats: Repeats | None
) -> Noise:
    """The noise that the verdict used, else the best there is.

    scores: (K, R), NaN where no run was made. Over rounds it is what single mountings of the elements judged
    hold after element and round effects; below three rounds the pooled one of the known repeatability and of
    mountings repeated within a round.
    """
    pooled = pooled_noise(repeats or single_mountings(scores), known)
    if judgement.design == KNOWN_NOISE and pooled is not None:
        return _told(pooled, known, repeats)
    judged = judgement.judged if judgement.judged.any() else np.ones(len(scores), dtype=bool)
    own = repeatability(scores[judged])
    of_runs = Noise() if own is None else Noise(own.sd, own.degrees_of_freedom, own.icc, THIS_TRIAL, own.sd)
    if known is not None and own is None:
        return Noise(known.sd, known.degrees_of_freedom, None, KNOWN, known.sd / _root_of_mountings(repeats))
    if repeats is None:
        return of_runs
    here = judged[repeats.element]
    single = Repeats(repeats.element[here], repeats.round[here], repeats.score[here])
    return _of_mountings(single, of_runs, within=tolerance(scores))


def early_noise(
    scores: Floats, judgement: Judgement, *, known: KnownNoise | None, repeats: Repeats | None
) -> EarlyNoise:
    """The noise behind a verdict reached below three rounds, now or by a decision that stands."""
    rounds, decided_at = scores.shape[1], judgement.decided_at or BELOW_ROUNDS
    number = min(rounds if judgement.design == KNOWN_NOISE else decided_at, BELOW_ROUNDS)
    several = repeats or single_mountings(scores)
    first = several.round < min(number, BELOW_ROUNDS - 1)
    until = Repeats(several.element[first], several.round[first], several.score[first])
    pooled = pooled_noise(until, known) if number < BELOW_ROUNDS else None
    return EarlyNoise(
        None if pooled is None else _told(pooled, known, repeats),
        None if pooled is None else number,
        0.0 if known is None else known.degrees_of_freedom,
        repeated_mountings(until),
    )


def _told(pooled: PooledNoise, known: KnownNoise | None, repeats: Repeats | None) -> Noise:
    """The pooled noise without the allowance that the verdict makes for another day."""
    own = pooled.degrees_of_freedom - (0.0 if known is None else known.degrees_of_freedom)
    source = THIS_TRIAL if known is None else BOTH if own > 0 else KNOWN
    sd = pooled.sd / ANOTHER_DAY
    return Noise(sd, pooled.degrees_of_freedom, None, source, sd / _root_of_mountings(repeats))


def _of_mountings(repeats: Repeats, of_runs: Noise, *, within: float) -> Noise:
    """The spread of single mountings where a run has several; `of_runs` tells what means of them do."""
    squares, freedom = left_over(repeats)
    if freedom < 1:
        return of_runs
    sd = float(np.sqrt(squares / freedom))
    sd = sd if sd > within else 0.0
    run_sd = sd / _root_of_mountings(repeats) if of_runs.run_sd is None else of_runs.run_sd
    return Noise(sd, freedom, of_runs.icc, THIS_TRIAL, run_sd)


def _root_of_mountings(repeats: Repeats | None) -> float:
    """The square root of the mean number of mountings of a run."""
    if repeats is None:
        return 1.0
    mountings = len(repeats.score)
    return float(np.sqrt(mountings / (mountings - repeated_mountings(repeats))))
