"""Candidates against the baseline of the same trial: candidate less baseline, round by round."""

import numpy as np

from service.analysis.checks.finding import BANERJEE_SAMPLES, SIGN_FLIP, WELCH_SAMPLES, Finding
from service.analysis.checks.question import Design, Settled
from service.analysis.facts import Facts
from service.statistics.bell_reference import Store
from service.statistics.non_inferiority import PairedCheck, paired_checks
from service.statistics.results import NEEDS_MORE_RUNS, Floats, Rule
from service.statistics.rounds_to_check import MoreRounds, rounds_to_check
from service.statistics.welch_checks import welch_checks
from service.statistics.welch_limits import WelchLimits, is_few, over_samples
from service.trial.scores import ScoreTable

_FEWEST = 2


def within_one_trial(asked: Settled, store: Store) -> tuple[Finding, ...]:
    """One finding a candidate. Where one of them has several samples, each is judged at alpha over their
    number; else Holm's steps hold the error over all.
    """
    facts = asked.trial_of(asked.question.baseline).facts
    found = _checks(asked, facts, facts.table, store=store)
    again: list[str | None] = [None] * len(found)
    if facts.put_back is not None:
        again = [check.outcome for check in _checks(asked, facts, facts.put_back.table, store=store)]
    return tuple(
        _finding(asked, design, check, store=store, with_struck=other)
        for design, check, other in zip(asked.question.candidates, found, again, strict=True)
    )


def check_rule(asked: Settled, facts: Facts, *, alpha: float) -> Rule:
    """The rule that the trial's plan fixed, for this margin and alpha."""
    trial = facts.trial
    return Rule(
        planned=trial.planned_rounds,
        alpha=alpha,
        every_round=trial.looks == "every round",
        margin=asked.margin,
        floor=2.0 * facts.rounding_variance,
        seed=trial.seed,
    )


def _checks(asked: Settled, facts: Facts, table: ScoreTable, *, store: Store) -> list[PairedCheck]:
    candidates = asked.question.candidates
    if all(len(design.samples) == 1 for design in candidates):
        rows = np.concatenate([_differences(table, asked.question.baseline, one) for one in candidates])
        return list(paired_checks(rows, check_rule(asked, facts, alpha=asked.alpha), store=store))
    rule = check_rule(asked, facts, alpha=asked.share)
    return [_apart(table, asked.question.baseline, one, rule=rule, store=store) for one in candidates]


def _apart(
    table: ScoreTable, baseline: Design, candidate: Design, *, rule: Rule, store: Store
) -> PairedCheck:
    """One candidate by itself, with its own share of the error."""
    rows = _differences(table, baseline, candidate)
    if len(rows) == 1:
        return paired_checks(rows, rule, store=store)[0]
    rows = rows[:, np.isfinite(rows).all(axis=0)]

    def limits_at(alpha: float) -> WelchLimits | None:
        return over_samples(rows, alpha, floor=rule.floor)

    (check,) = welch_checks([limits_at], margin=rule.margin, alpha=rule.alpha, rounds=[rows.shape[1]])
    return check


def _differences(table: ScoreTable, baseline: Design, candidate: Design) -> Floats:
    """Candidate less baseline, a row a sample: (samples, R), NaN where one of the two was not run."""
    of = [table.elements.index(name) for name in candidate.samples]
    return np.asarray(table.scores[of] - table.scores[table.elements.index(baseline.samples[0])])


def _finding(
    asked: Settled, design: Design, check: PairedCheck, *, store: Store, with_struck: str | None
) -> Finding:
    facts = asked.trial_of(design).facts
    several = len(design.samples) > 1
    more = MoreRounds(0, 0)
    if check.outcome == NEEDS_MORE_RUNS:
        more = MoreRounds(None, None) if several else _more_rounds(asked, design, facts, store=store)
    return Finding(
        check=check,
        method=_method(design, check),
        baseline_rounds=check.rounds,
        more_rounds=more.half,
        more_rounds_safe=more.safe,
        with_struck=with_struck,
    )


def _method(design: Design, check: PairedCheck) -> str:
    samples = len(design.samples)
    if samples == 1:
        return SIGN_FLIP
    return BANERJEE_SAMPLES if is_few(samples, check.rounds) else WELCH_SAMPLES


def _more_rounds(asked: Settled, design: Design, facts: Facts, *, store: Store) -> MoreRounds:
    row = _differences(facts.table, asked.question.baseline, design)[0]
    row = row[np.isfinite(row)]
    if len(row) < _FEWEST:
        return MoreRounds(None, None)
    rule = check_rule(asked, facts, alpha=asked.alpha)
    return rounds_to_check(row, rule, candidates=len(asked.question.candidates), store=store)
