"""One look at the rounds so far: who is in the fit, and an interval for every pair in it."""

import math
from types import SimpleNamespace

import numpy as np

from .plain_bell import bell_draws, bell_statistics
from .plain_fit import (
    all_pairs,
    design_of,
    effects_and_residuals,
    fewer_runs,
    pair_statistics,
    shared_rounds,
)
from .plain_known_noise import known_noise_look
from .plain_looks import bell_critical, is_look, paired_order
from .plain_shuffled import shuffled_critical, shuffled_maxima, shuffled_p
from .plain_sign_flip import sign_flip_interval, sign_flip_p


def tolerance(scores):
    """1e-9 times the largest |score|, at least 1e-9: differences within it are none."""
    return 1e-9 * max(1.0, float(np.nanmax(np.abs(scores), initial=0.0)))


def paired_differences(table, i, j, tol):
    """(differences, 1-based numbers of the rounds that hold both)."""
    difference = table[i] - table[j]
    rounds = np.flatnonzero(~np.isnan(difference)) + 1
    difference = difference[rounds - 1]
    return np.where(np.abs(difference) <= tol, 0.0, difference), rounds


def joined_to(held, start, among):
    """The elements of `among` that a chain of shared rounds joins to `start`."""
    joined = {start}
    while True:
        rounds = np.any(held[sorted(joined)], axis=0)
        more = {k for k in among if np.any(held[k] & rounds)} | joined
        if more == joined:
            return sorted(joined)
        joined = more


def fitted_elements(table, competing, fewest_runs):
    """Elements with enough runs that are joined to the best of them (by mean score, competing ones first)."""
    held = ~np.isnan(table)
    enough = [k for k in range(len(table)) if held[k].sum() >= fewest_runs]
    if not enough:
        return []
    candidates = [k for k in enough if competing[k]] or enough
    best = max(candidates, key=lambda k: float(np.mean(table[k][held[k]])))
    return joined_to(held, best, enough)


def element_effects(table, elements):
    """{element: fitted effect}, up to a constant."""
    if not elements:
        return {}
    part = table[elements]
    effects, _, _ = effects_and_residuals((part - np.nanmean(part))[None])
    return {k: float(effect) for k, effect in zip(elements, effects[0], strict=True)}


def look_at(table, rule):
    """What the rounds of table (K, R) say: fit, effects, leader and pairs {(i, j): interval and the like}.

    `known` is the same as `pairs` where a known noise judges them, else None.
    """
    few = 1 if len(table) == 2 or table.shape[1] < 3 else 3
    fit = fitted_elements(table, rule.competing, few)
    known = known_noise_look(table, fit, rule) if table.shape[1] < 3 and len(fit) >= 2 else None
    if known is not None:
        pairs = known
    elif len(table) > 2 and table.shape[1] < 3:
        pairs = {}
    elif len(fit) == 2:
        pairs = {tuple(fit): _two(table, tuple(fit), rule)}
    else:
        pairs = _many(table, fit, rule) if len(fit) > 2 else {}
    fit_for_effects = fit if len(fit) >= 2 else fitted_elements(table, rule.competing, 1)
    effects = element_effects(table, fit_for_effects)
    leader = _leader(effects, rule.competing, tolerance(table))
    return SimpleNamespace(fit=fit, effects=effects, leader=leader, pairs=pairs, known=known)


def _leader(effects, competing, tol):
    """The earliest of those whose effect is the best."""
    contenders = {k: effect for k, effect in effects.items() if competing[k]}
    if not contenders:
        return None
    best = max(contenders.values())
    return min(k for k, effect in contenders.items() if effect >= best - tol)


def _pair(**values):
    """A pair's numbers; the leader's interval is the same as the pair's unless told otherwise."""
    values.setdefault("leader_low", values["low"])
    values.setdefault("leader_high", values["high"])
    return SimpleNamespace(**values)


def _two(table, pair, rule):
    tol = tolerance(table)
    d, rounds = paired_differences(table, *pair, tol)
    count = len(d)
    found = paired_order(count, rule.plan) if count else None
    low, high = sign_flip_interval(d, found["order"] if found else 0, rule.seed, rounds)
    variance = float(np.var(d, ddof=1)) if count >= 2 else None
    mean = float(d.mean()) if count else None
    if low is not None and variance <= 1.5 * rule.floor * (1.0 + 1e-9):
        reach = 2.0 * math.sqrt(rule.floor)
        low, high = min(low, mean - reach), max(high, mean + reach)
    p = sign_flip_p(d, rule.seed, rounds) if count >= 2 else None
    se = math.sqrt(variance / count) if count >= 2 else None
    return _pair(difference=mean, se=se, low=low, high=high, adjusted_p=p, held=shared_rounds)


def _many(table, fit, rule):
    part, tol = table[fit], tolerance(table)
    part = part - np.nanmean(part)
    if design_of(~np.isnan(part)).df < 4:
        effects = element_effects(table, fit)
        return {(i, j): _unjudged(effects[i] - effects[j]) for i, j in all_pairs(fit)}
    observed = pair_statistics(part[None], rule.floor, tol)
    maxima = shuffled_maxima(part, floor=rule.floor, tol=tol, seed=rule.seed)
    pairs = {}
    for column, (i, j) in enumerate(all_pairs(fit)):
        numbers = observed.difference[0, column], observed.se[0, column], observed.t[0, column]
        size = len(fit), fewer_runs(table, i, j)
        pairs[i, j] = _one_of_many(size, numbers, maxima, rule.plan)
    return pairs


def _unjudged(difference):
    return _pair(difference=difference, se=None, low=None, high=None, adjusted_p=None, held=fewer_runs)


def _one_of_many(size, numbers, maxima, plan):
    difference, se, t = (float(x) for x in numbers)
    p = shuffled_p(maxima, t)
    if is_look(*size):
        for pattern in (0, 1):
            largest, _ = bell_statistics(*size, bell_draws(*size), pattern)
            p = max(p, float(np.mean(largest >= t * (1.0 - 1e-9))))
    bell = bell_critical(*size, plan)
    critical = max(bell["critical"], shuffled_critical(maxima, bell["level"])) if bell else math.inf
    low, high = _interval(difference, se, critical)
    leader_low, leader_high = _interval(difference, se, bell["leader"] if bell else math.inf)
    return _pair(
        difference=difference,
        se=se,
        low=low,
        high=high,
        adjusted_p=p,
        held=fewer_runs,
        leader_low=leader_low,
        leader_high=leader_high,
    )


def _interval(difference, se, critical):
    """Null when the critical value is infinite, or when a difference has no standard error at all."""
    if math.isinf(critical) or (se == 0.0 and difference != 0.0):
        return None, None
    return difference - critical * se, difference + critical * se
