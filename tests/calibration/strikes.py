"""Errors where runs are struck between looks, while what earlier looks decided stands.

A struck run is taken out of the whole trial: all looks up to the present are made again without it, as the
service does, and an error at any look, before or after the strike, counts. Three ways to strike one run:

- at random: after the planned round any of the runs done, for a reason that has nothing to do with readings;
- the worst: after the planned round the run that lies furthest from what the others lead to expect;
- for the outcome: after every round each single strike is tried, and the one that changes the answer is made.
"""

import numpy as np

from service.statistics.least_squares import fit
from tests.calibration.rates import AT_ONCE, COUNTED, Rates, flags

Run = tuple[int, int]


def at_random(scores, means, fixed):
    """One run struck after the planned round, each as likely as the others."""
    trials, elements, _ = scores.shape
    picked = np.random.default_rng(len(scores)).integers(elements * fixed.planned, size=trials)
    return _struck_once(scores, means, fixed, picked)


def the_worst(scores, means, fixed):
    """The run with the largest residual struck after the planned round, in every trial."""
    residuals = np.array([fit(one[:, : fixed.planned]).residuals for one in scores])
    return _struck_once(scores, means, fixed, np.abs(residuals).reshape(len(scores), -1).argmax(axis=1))


def for_the_outcome(scores, means, fixed):
    """Whatever single strike brings an error is made; counts errors alone."""
    truths = np.broadcast_to(means, scores.shape[:2])
    total = np.zeros(len(COUNTED), dtype=int)
    for start in range(0, len(scores), AT_ONCE):
        here = slice(start, start + AT_ONCE)
        total += _tempted(scores[here], truths[here], fixed).sum(axis=1)
    return _errors_of(len(scores), total)


def _tempted(scores, truths, fixed):
    found = flags(scores, truths, fixed)
    for run in np.ndindex(scores.shape[1:]):
        still = np.flatnonzero(found[:2].min(axis=0) == 0)  # neither kind of error yet, or only one
        found[:, still] |= flags(scores[still], truths[still], fixed, present=_without(scores, run))
    return found


def _struck_once(scores, means, fixed, picked):
    """Errors up to the planned round with all runs, and at any look without the run picked in each trial."""
    truths = np.broadcast_to(means, scores.shape[:2])
    before = flags(scores[:, :, : fixed.planned], truths, fixed)
    runs = [divmod(int(place), fixed.planned) for place in range(scores.shape[1] * fixed.planned)]
    for place, run in enumerate(runs):
        here = np.flatnonzero(picked == place)
        if here.size:
            before[:, here] |= flags(scores[here], truths[here], fixed, present=_without(scores, run))
    return _errors_of(len(scores), before.sum(axis=1))


def _without(scores, run: Run):
    present = np.ones(scores.shape[1:], dtype=bool)
    present[run] = False
    return present


def _errors_of(trials, counts):
    """Only errors: what was missed at the last look, or rightly named, is not of two trials together."""
    errors = dict(zip(COUNTED, counts.tolist(), strict=True))
    for name in ("missed", "ever_missed", "leader_missed", "leader_single", "named_by_plan", "named"):
        errors[name] = 0
    return Rates(trials, **errors)
