"""How often the rule says what is not so, over simulated trials with a known truth."""

from dataclasses import dataclass, fields

import numpy as np
from scipy.stats import binom, hypergeom

from service.statistics.intervals import reach, tolerance
from service.statistics.pair_statistics import pair_indices
from service.statistics.results import Rule
from service.statistics.trial_looks import TrialLooks
from tests.calibration.many_trials import CLEAR, STORE, WITHIN, follow, outcome_codes
from tests.calibration.quick_shuffles import quick_shuffles

AT_ONCE = 1_000  # trials held in memory together


@dataclass(frozen=True)
class Rates:
    """Counts over trials, every look counted: what was once said is an error, whatever is said later.

    false_calls: some pair called that is equal, or called the wrong way round. false_winners: a winner named
    that is not the best alone. false_within: some pair of the table called within noise that is a margin or
    more apart. trial_false_within: the same of the leader and another, where the trial came out so.
    missed: at the last look some interval of the pair table leaves out the truth; ever_missed: at any look.
    leader_missed: some of the leader's at the last look; leader_single: how many of them, K - 1 a trial.
    named_by_plan, named: the best alone was named by the planned round, by the last.
    """

    trials: int
    false_calls: int
    false_winners: int
    false_within: int
    trial_false_within: int
    missed: int
    ever_missed: int
    leader_missed: int
    leader_single: int
    named_by_plan: int
    named: int


COUNTED = tuple(field.name for field in fields(Rates))[1:]


def rule(**changes):
    """The rule of the default plan: six rounds, 0.95, a look after every round."""
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 0.5, "floor": 0.0, "seed": 1}
    return Rule(**fixed | changes)


def by_the_rule(scores, fixed):
    """The looks of one trial (K, R) by the rule itself, all elements competing."""
    everyone = np.ones(len(scores), dtype=bool)
    return TrialLooks(scores, fixed, competing=everyone, store=STORE, known=None, repeats=None)


def rates(scores, means, fixed, *, present=None):
    """Judge every trial (trials, K, R) by the rule; means (K,) or (trials, K) is the truth."""
    truths = np.broadcast_to(means, scores.shape[:2])
    counts = np.zeros(len(COUNTED), dtype=int)
    for start in range(0, len(scores), AT_ONCE):
        here = slice(start, start + AT_ONCE)
        counts += flags(scores[here], truths[here], fixed, present=present).sum(axis=1)
    return Rates(len(scores), *counts.tolist())


def flags(scores, truths, fixed, *, present=None):
    """What Rates counts, for each trial: (counts, trials); the whole rule is asked where it could matter."""
    found = {name: np.zeros(len(scores), dtype=bool) for name in COUNTED}
    whole = _Whole(scores, fixed, present)
    for pairs, lead in follow(scores, fixed, present=present):
        known = {name: found[name] for name in ("false_calls", "false_within", "ever_missed")}
        if pairs.round == scores.shape[2]:  # what is missed at the last look is asked of every trial
            known["ever_missed"] = np.zeros(len(scores), dtype=bool)
        table = whole.confirmed(pairs, truths, known)
        for name, now in table.items():
            found[name] = found[name] | now
        found["missed"] = table["ever_missed"] & ~known["ever_missed"]
        _count_leader(found, pairs, lead, truths=truths, fixed=fixed)
    return np.array([found[name] for name in COUNTED], dtype=int)


def _count_leader(found, pairs, lead, *, truths, fixed):
    trials = np.arange(len(truths))
    ahead = truths[trials, lead.leader] - truths.T  # (K, trials), truth of leader - other
    others = np.arange(len(ahead))[:, None] != lead.leader
    judged = np.isfinite(pairs.scores[:, :1])  # of the others nothing is said
    best_alone = np.where(others & judged, ahead > 1e-9, True).all(axis=0)
    named = lead.outcome == CLEAR
    found["false_winners"] |= named & ~best_alone
    found["named"] |= named & best_alone
    if pairs.round <= fixed.planned:
        found["named_by_plan"] |= named & best_alone
    within = outcome_codes(lead.low, lead.high, fixed, 1e-9) == WITHIN
    apart = others & (np.abs(ahead) >= fixed.margin - 1e-9)
    found["trial_false_within"] |= (lead.outcome == WITHIN) & (within & apart).any(axis=0)
    missed = others & ((lead.low > ahead + 1e-9) | (lead.high < ahead - 1e-9))
    found["leader_missed"], found["leader_single"] = missed.any(axis=0), missed.sum(axis=0)


class _Whole:
    """Errors of the pair table at one look, confirmed by the whole rule where bell-shaped ones would err."""

    def __init__(self, scores, fixed, present):
        self.scores = scores if present is None else np.where(present, scores, np.nan)
        self.fixed = fixed
        self.complete = present is None
        self.kept = {}

    def confirmed(self, pairs, truths, known):
        """Which trials err at this look in a way not known of them: a dict of (trials,) flags."""
        errors = table_errors(pairs.low, pairs.high, pairs.looked, truths=truths, fixed=self.fixed)
        errors = {name: flag & ~known[name] for name, flag in errors.items()}
        if self.scores.shape[1] == 2:
            return errors
        for trial in np.flatnonzero(np.any(list(errors.values()), axis=0)):
            low, high = self._ends(pairs, trial)
            alone = table_errors(low, high, pairs.looked, truths=truths[[trial]], fixed=self.fixed)
            for name, flag in alone.items():
                errors[name][trial] &= flag[0]
        return errors

    def _ends(self, pairs, trial):
        """The ends of one trial's intervals by the whole rule, each (pairs, 1)."""
        if not self.complete:
            if trial not in self.kept:
                self.kept[trial] = by_the_rule(self.scores[trial], self.fixed)
            table = self.kept[trial].whole(pairs.round)
            return table.low[:, None], table.high[:, None]
        scores, fixed = self.scores[trial], self.fixed
        shuffled = quick_shuffles(
            scores[:, : pairs.round], floor=fixed.floor, seed=fixed.seed, tol=tolerance(scores)
        )
        difference, error = pairs.difference[:, [trial]], pairs.error[:, [trial]]
        ends = reach(difference, error, np.array(shuffled.critical(float(pairs.level[0]))))
        low, high = difference - ends, difference + ends
        return np.minimum(low, pairs.low[:, [trial]]), np.maximum(high, pairs.high[:, [trial]])


def table_errors(low, high, looked, *, truths, fixed):
    """Errors of the pair table's intervals (pairs, trials): a dict of (trials,) flags."""
    first, second = pair_indices(truths.shape[1])
    truth = (truths[:, first] - truths[:, second]).T
    codes = np.where(looked[:, None], outcome_codes(low, high, fixed, 1e-9), 0)
    same = np.abs(truth) <= 1e-9
    wrong_way = ((low > 0) & (truth < 0)) | ((high < 0) & (truth > 0))
    missed = looked[:, None] & ((low > truth + 1e-9) | (high < truth - 1e-9))
    return {
        "false_calls": ((codes == CLEAR) & (same | wrong_way)).any(axis=0),
        "false_within": ((codes == WITHIN) & (np.abs(truth) >= fixed.margin - 1e-9)).any(axis=0),
        "ever_missed": missed.any(axis=0),
    }


def most_allowed(promise, trials):
    """99.9 % upper bound of the number of errors, were the true rate the promised one."""
    return int(binom.ppf(0.999, trials, promise))


def agrees(count, trials, committed, committed_trials):
    """Whether two counts may come from one rate: two-sided, exact (Fisher), at one in 10 000."""
    law = hypergeom(trials + committed_trials, count + committed, trials)
    return bool(min(law.cdf(count), law.sf(count - 1)) >= 0.5e-4)
