"""One look over all pairs of a trial, whichever design it is judged by: rounds, two elements, known noise."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from service.statistics.intervals import outcomes, reach
from service.statistics.known_noise import KnownLook
from service.statistics.least_squares import fit
from service.statistics.pair_look import PairLook, Setting, look_at
from service.statistics.pair_statistics import is_quiet, least_reach, pair_indices, ratio
from service.statistics.results import Flags, Floats
from service.statistics.sign_flip import flip_interval


@dataclass(frozen=True)
class LookTable:
    """Arrays over all pairs of the trial's K elements, in order; NaN or infinite where not computable.

    members (K,): elements judged here. scores (K,): fitted effects of the members, plain means of others.
    low, high: the interval for the table of pairs; leader_low, leader_high: for the question who leads.
    looked: whether this is a look for the pair.
    """

    members: Flags
    scores: Floats
    difference: Floats
    error: Floats
    statistic: Floats
    low: Floats
    high: Floats
    leader_low: Floats
    leader_high: Floats
    looked: Flags

    def outcomes(self, *, margin: float, tol: float) -> NDArray[np.object_]:
        """Outcome of each pair by this look alone."""
        return outcomes(np.where(self.looked, self.low, np.nan), self.high, margin=margin, tol=tol)

    def leader_outcomes(self, *, margin: float, tol: float) -> NDArray[np.object_]:
        """Outcome of each pair by this look alone, were one of the two the leader."""
        return outcomes(
            np.where(self.looked, self.leader_low, np.nan), self.leader_high, margin=margin, tol=tol
        )


def no_look(scores: Floats, members: Flags) -> LookTable:
    """The table where nothing can be judged; scores (K, R), members (K,) joined by shared rounds."""
    first, second = pair_indices(len(scores))
    unknown, never = np.full(len(first), np.nan), np.zeros(len(first), dtype=np.bool_)
    shared, shown = shared_differences(scores), plain_scores(scores)
    if members.any():
        shown[members] = fit(scores[members]).effects
    return LookTable(
        members=members,
        scores=shown,
        difference=np.where(members[first] & members[second], shown[first] - shown[second], shared),
        error=unknown,
        statistic=unknown,
        low=unknown,
        high=unknown,
        leader_low=unknown,
        leader_high=unknown,
        looked=never,
    )


def from_pair_look(scores: Floats, members: Flags, look: PairLook) -> LookTable:
    """The table of a look at three or more fitted elements; scores (K, R) of all elements."""
    base = no_look(scores, members)
    first, second = pair_indices(len(scores))
    here = members[first] & members[second]
    difference, error = look.table.difference, look.table.standard_error
    ends = reach(difference, error, look.critical)
    leader_ends = reach(difference, error, look.leader_critical)
    return replace(
        base,
        difference=_placed(base.difference, here, difference),
        error=_placed(base.error, here, error),
        statistic=_placed(base.statistic, here, look.table.statistic),
        low=_placed(base.low, here, difference - ends),
        high=_placed(base.high, here, difference + ends),
        leader_low=_placed(base.low, here, difference - leader_ends),
        leader_high=_placed(base.high, here, difference + leader_ends),
        looked=_looked(here, look.looked),
    )


def from_two(scores: Floats, members: Flags, setting: Setting, *, longest: int) -> LookTable:
    """The table where two elements are judged, by sign flips of their differences; scores (K, R) of all.

    Where the variance of the differences is no more than 1.5 floors, the interval reaches at least
    2 sqrt(floor) to each side: rounding of a quiet meter is the same in every round.
    """
    base = no_look(scores, members)
    here = np.zeros(len(base.difference), dtype=np.bool_)
    pair = np.flatnonzero(members)
    first, second = pair_indices(len(scores))
    here[(first == pair[0]) & (second == pair[1])] = True
    both = np.asarray(np.isfinite(scores[pair]).all(axis=0))
    differences = (scores[pair[0]] - scores[pair[1]])[both]
    look = look_at(2, len(differences), setting, longest=longest)
    order = (look.order if look else 0) or 0
    mean = float(differences.mean())
    low, high = (_placed(base.low, here, end) for end in _two_ends(differences, order, setting))
    return replace(
        base,
        difference=_placed(base.difference, here, 0.0 if abs(mean) <= setting.tol else mean),
        looked=here if order and both[-1] else base.looked,
        low=low,
        high=high,
        leader_low=low,
        leader_high=high,
    )


def from_known(scores: Floats, members: Flags, look: KnownLook) -> LookTable:
    """The table of one or two rounds judged by a known noise; scores (K, R)."""
    difference, error = look.difference, look.standard_error
    ends = reach(difference, error, np.array(look.critical))
    leader_ends = reach(difference, error, np.array(look.leader_critical))
    return replace(
        no_look(scores, members),
        difference=difference,
        error=error,
        statistic=ratio(np.abs(difference), error),
        low=difference - ends,
        high=difference + ends,
        leader_low=difference - leader_ends,
        leader_high=difference + leader_ends,
        looked=look.grown,
    )


def plain_scores(scores: Floats) -> Floats:
    """Mean over the rounds an element was run in, NaN where there is none; scores (K, R)."""
    present = np.isfinite(scores)
    sums = np.where(present, scores, 0.0).sum(axis=1)
    return np.where(present.any(axis=1), sums / np.maximum(present.sum(axis=1), 1), np.nan)


def shared_differences(scores: Floats) -> Floats:
    """Mean difference of each pair over the rounds both hold, NaN where there is none; scores (K, R)."""
    first, second = pair_indices(len(scores))
    differences = scores[first] - scores[second]
    present = np.isfinite(differences)
    counts = present.sum(axis=1)
    sums = np.where(present, differences, 0.0).sum(axis=1)
    return np.where(counts > 0, sums / np.maximum(counts, 1), np.nan)


def _two_ends(differences: Floats, order: int, setting: Setting) -> tuple[float, float]:
    low, high = flip_interval(differences, order, seed=setting.seed)
    if not order:
        return low, high
    quiet = is_quiet(float(differences.var(ddof=1)), setting.floor)
    mean, least = float(differences.mean()), float(least_reach(quiet, setting.floor))
    return min(low, mean - least), max(high, mean + least)


def _placed(base: Floats, here: Flags, values: Floats | float) -> Floats:
    placed = base.copy()
    placed[here] = values
    return placed


def _looked(here: Flags, looked: Flags) -> Flags:
    placed = np.zeros_like(here)
    placed[here] = looked
    return placed
