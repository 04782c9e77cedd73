"""How many rounds more a trial would need, from simulated continuations of it.

Predictive power with the noise and the means drawn from their uncertainty: Spiegelhalter, Freedman and
Blackburn (1986), Monitoring clinical trials: conditional or predictive power? Controlled Clinical Trials 7,
8-17. The draws are numpy's own, so that only shares can be compared, not single numbers.
"""

import math
from types import SimpleNamespace

import numpy as np
from scipy.stats import t as student

from .plain_fit import all_pairs, design_of, effects_and_residuals, fewer_runs, pair_statistics, shared_rounds
from .plain_look import look_at, tolerance
from .plain_looks import bell_critical, paired_order

LONGEST = 60
CONTINUED = 500
DRAWS_AHEAD = 4_000


def continued_tables(part, rng):
    """(CONTINUED, K, LONGEST): the rounds done, then normal ones; None without a noise estimate."""
    held = ~np.isnan(part)
    design = design_of(held)
    if design.df < 1:
        return None
    effects, residuals, _ = effects_and_residuals(part[None])
    variance = np.sum(residuals**2) / rng.chisquare(design.df, size=CONTINUED)
    sd = np.sqrt(variance)[:, None]
    spread = np.linalg.cholesky(_covariance(design, len(part)) + 1e-12 * np.eye(len(part)))
    means = effects + sd * (rng.standard_normal((CONTINUED, len(part))) @ spread.T)
    ahead = LONGEST - part.shape[1]
    later = means[:, :, None] + sd[:, :, None] * rng.standard_normal((CONTINUED, len(part), ahead))
    return np.concatenate([np.broadcast_to(part, (CONTINUED, *part.shape)), later], axis=2)


def _covariance(design, elements):
    """Of the fitted effects, for noise of variance 1."""
    rows = design.inverse[:elements]
    return rows @ rows.T


def rounds_to_decision(scores, rule):
    """{"trial" or (i, j): further rounds to a decision, (CONTINUED,), infinite beyond 60 rounds in all}.

    Of scores (K, R) that are not decided yet; `rule` is a namespace of plan, margin, floor, seed, competing,
    known and repeats as in `plain_judgement.judge`. Empty where no noise can be estimated.
    """
    scores = np.asarray(scores, dtype=float)
    look = look_at(scores, rule)
    part = scores[look.fit] - np.nanmean(scores[look.fit])
    tables = continued_tables(part, np.random.default_rng(rule.seed))
    if tables is None or len(look.fit) < 2:
        return {}
    pairs = all_pairs(look.fit)
    first = {question: np.full(CONTINUED, math.inf) for question in ["trial", *pairs]}
    competing = np.array([rule.competing[k] for k in look.fit])
    for n in range(scores.shape[1] + 1, LONGEST + 1):
        found = _at(tables[:, :, :n], rule, tolerance(scores))
        for column, pair in enumerate(pairs):
            _note(first[pair], found.decided[:, column], n - scores.shape[1])
        _note(first["trial"], _trial_decided(found, competing), n - scores.shape[1])
    return first


def _note(first, decided, further):
    first[decided & np.isinf(first)] = further


def reached_by(first, share):
    """The fewest further rounds at which this share of the continued trials has been decided, or None."""
    last = np.sort(first)[math.ceil(share * len(first) - 1e-9) - 1]
    return None if math.isinf(last) else int(last)


def _at(tables, rule, tol):
    """Whether each pair is decided, by its own and by the leader's critical value: (draws, pairs) each."""
    elements = tables.shape[1]
    stats = pair_statistics(tables, rule.floor, tol)
    if elements == 2:
        critical = leader = [_paired_critical(shared_rounds(tables[0], 0, 1), rule.plan)]
    else:
        runs = [fewer_runs(tables[0], i, j) for i, j in all_pairs(range(elements))]
        found = [bell_critical(elements, r, rule.plan, draws=DRAWS_AHEAD) for r in runs]
        critical = [f["critical"] if f else math.inf for f in found]
        leader = [f["leader"] if f else math.inf for f in found]
    effects, _, _ = effects_and_residuals(tables)
    return SimpleNamespace(
        effects=effects,
        decided=_decided(stats, np.array(critical), rule.margin, tol),
        leader_decided=_decided(stats, np.array(leader), rule.margin, tol),
    )


def _paired_critical(shared, plan):
    """t that only the share 2m/2^R of bell-shaped differences exceeds."""
    found = paired_order(shared, plan, draws=DRAWS_AHEAD)
    return float(student.isf(found["level"] / 2.0, shared - 1)) if found else math.inf


def _decided(stats, critical, margin, tol):
    with np.errstate(invalid="ignore"):
        reach = stats.se * critical
    low, high = stats.difference - reach, stats.difference + reach
    inside = (low >= -margin - tol) & (high <= margin + tol)
    return inside | (low > tol) | (high < -tol)


def _trial_decided(found, competing):
    """All pairs of the leader, the best effect among those that compete."""
    effects = np.where(competing, found.effects, -np.inf)
    leader = np.argmax(effects, axis=1)
    decided = np.ones(len(leader), dtype=bool)
    for column, (i, j) in enumerate(all_pairs(range(len(competing)))):
        if competing[i] and competing[j]:
            decided &= found.leader_decided[:, column] | ((leader != i) & (leader != j))
    return decided & (competing.sum() >= 2)
