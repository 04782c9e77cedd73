"""How often the rule calls what is not so, over simulated trials with a known truth."""

from dataclasses import dataclass

import numpy as np
from scipy.stats import binom

from service.statistics.bell_reference import MemoryStore
from service.statistics.results import CLEAR_WINNER, WITHIN_NOISE, Rule
from service.statistics.standing import standing_pairs, standing_trial
from service.statistics.trial_looks import TrialLooks

STORE = MemoryStore()


@dataclass(frozen=True)
class Rates:
    """Counts over trials: a pair called that does not differ; a winner named that is not the best alone."""

    trials: int
    false_calls: int
    false_winners: int
    false_within: int
    winners: int


def rule(**changes):
    """The rule of the default plan: six rounds, 0.95, a look after every round."""
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 0.5, "floor": 0.0, "seed": 1}
    return Rule(**fixed | changes)


def rates(trials, means, fixed):
    """Judge every trial (trials, K, R) by the rule; means (K,) or (trials, K) is the truth."""
    truths = np.broadcast_to(means, trials.shape[:2])
    counts = np.array([_wrong(scores, truth, fixed) for scores, truth in zip(trials, truths, strict=True)])
    return Rates(len(trials), *(int(count) for count in counts.sum(axis=0)))


def most_allowed(promise, trials):
    """99.9 % upper bound of the number of errors, were the true rate the promised one."""
    return int(binom.ppf(0.999, trials, promise))


def _wrong(scores, truth, fixed):
    looks = TrialLooks(scores, fixed, store=STORE, known=None, repeats=None)
    pairs, trial = standing_pairs(looks), standing_trial(looks, np.ones(len(scores), dtype=bool))
    first, second = np.triu_indices(len(scores), k=1)
    better = np.where(truth[first] > truth[second], first, second)
    no_better = np.isclose(truth[first], truth[second])
    called = pairs.outcome == CLEAR_WINNER
    false_call = (called & (no_better | (pairs.winner != better))).any()
    matters = np.abs(truth[first] - truth[second]) >= fixed.margin - 1e-9
    false_within = ((pairs.outcome == WITHIN_NOISE) & matters).any()
    best_alone = trial.winner is not None and (truth[trial.winner] > np.delete(truth, trial.winner)).all()
    named = trial.outcome == CLEAR_WINNER
    return false_call, named and not best_alone, false_within, named and best_alone
