"""How far two runs of one element differ by themselves: from this trial, from elsewhere, or from both."""

from dataclasses import dataclass

import numpy as np

from service.statistics.known_noise import ANOTHER_DAY, PooledNoise, pooled_noise, single_mountings
from service.statistics.repeatability import LIMIT_FACTOR, repeatability
from service.statistics.results import Floats, Judgement, KnownNoise, Repeats

KNOWN_NOISE = "one round, known noise"
THIS_TRIAL, KNOWN, BOTH = "this trial", "known", "both"


@dataclass(frozen=True)
class Noise:
    """Repeatability in meter units of the score; all None where nothing tells it.

    `source` is "this trial", "known" (the trial brought it along) or "both" (pooled).
    """

    sd: float | None = None
    degrees_of_freedom: float | None = None
    icc: float | None = None
    source: str | None = None

    def document(self) -> dict[str, object]:
        """The repeatability part of the document; the limit is 2.8 sd (ISO 5725-6)."""
        return {
            "sd": self.sd,
            "limit": None if self.sd is None else LIMIT_FACTOR * self.sd,
            "degrees_of_freedom": self.degrees_of_freedom,
            "icc": self.icc,
            "from": self.source,
        }


def noise(
    scores: Floats, judgement: Judgement, *, known: KnownNoise | None, repeats: Repeats | None
) -> Noise:
    """The noise that the verdict used, else the best there is.

    scores: (K, R), NaN where no run was made. Over rounds it is the residual sd of the elements judged;
    below three rounds the pooled one of the known repeatability and of mountings repeated within a round.
    """
    pooled = pooled_noise(repeats or single_mountings(scores), known)
    if judgement.design == KNOWN_NOISE and pooled is not None:
        return _told(pooled, known)
    own = repeatability(scores[judgement.judged] if judgement.judged.any() else scores)
    if own is not None:
        return Noise(own.sd, own.degrees_of_freedom, own.icc, THIS_TRIAL)
    if known is not None:
        return Noise(known.sd, known.degrees_of_freedom, None, KNOWN)
    return Noise() if repeats is None else _within_rounds(repeats)


def _told(pooled: PooledNoise, known: KnownNoise | None) -> Noise:
    """The pooled noise without the allowance that the verdict makes for another day."""
    own = pooled.degrees_of_freedom - (0.0 if known is None else known.degrees_of_freedom)
    source = THIS_TRIAL if known is None else BOTH if own > 0 else KNOWN
    return Noise(pooled.sd / ANOTHER_DAY, pooled.degrees_of_freedom, None, source)


def _within_rounds(repeats: Repeats) -> Noise:
    """Spread of mountings of one element within one round, pooled over the runs; some run has several."""
    _, run = np.unique(np.stack([repeats.element, repeats.round]), axis=1, return_inverse=True)
    counts = np.bincount(run)
    freedom = int((counts - 1).sum())
    means = np.bincount(run, weights=repeats.score) / counts
    squares = float(np.square(repeats.score - means[run]).sum())
    return Noise(float(np.sqrt(squares / freedom)), freedom, None, THIS_TRIAL)
