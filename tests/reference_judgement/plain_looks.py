"""How much error each look may spend, and the critical values that spend it.

Lan and DeMets (1983), Discrete sequential boundaries for clinical trials, Biometrika 70, 659-663; power
family: Jennison and Turnbull (2000), Group Sequential Methods, section 7.2.
"""

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from .plain_bell import bell_draws, bell_paired_t, bell_statistics
from .plain_sign_flip import MOST_EXACT


class Plan(NamedTuple):
    """What was fixed beforehand: planned rounds, error rate, a look after every round or only at the end."""

    planned: int
    alpha: float
    every_round: bool


def spent_by(r, plan):
    """Error that may be spent up to round r: alpha 0.8 (r/P)^2 to the plan, the last fifth beyond it."""
    if r <= plan.planned:
        return plan.alpha * 0.8 * (r / plan.planned) ** 2
    return plan.alpha * (0.8 + 0.2 * (1.0 - plan.planned / r))


def spending(r, plan):
    """[(round, spent)] of the looks up to round r; ends with r itself, or is empty if r is no look.

    Beyond a planned end, at which all of alpha was spent, that look is counted at its part of 0.8 alpha.
    """
    if plan.every_round:
        return [(k, spent_by(k, plan)) for k in range(1, r + 1)]
    if r <= plan.planned:
        return [(r, plan.alpha)] if r == plan.planned else []
    return [(k, spent_by(k, plan)) for k in range(plan.planned, r + 1)]


def paired_spending(r, plan):
    """As `spending`, for two elements, where beyond a planned end a fifth is added to the whole of alpha."""
    if plan.every_round or r <= plan.planned:
        return spending(r, plan)
    later = range(plan.planned + 1, r + 1)
    beyond = [(k, plan.alpha * (1.0 + 0.2 * (1.0 - plan.planned / k))) for k in later]
    return [(plan.planned, plan.alpha), *beyond]


def follow(paths, spends):
    """[(critical, level)] a look: the smallest value that keeps the share that ever crossed within `spends`.

    `paths` holds one array (draws,) a look. The level is the share of all draws above the value there.
    """
    draws = len(paths[0]) if paths else 0
    crossed = np.zeros(draws, dtype=bool)
    found = []
    for t, spent in zip(paths, spends, strict=True):
        may_cross = math.floor(spent * draws + 1e-9) - int(crossed.sum())
        critical = np.sort(t[~crossed])[::-1][may_cross]
        above = t > critical
        crossed |= above
        found.append((float(critical), float(above.sum() / draws)))
    return found


@lru_cache(maxsize=512)
def bell_critical(elements, r, plan, *, draws=None):
    """{"spent", "critical", "level", "leader"} at r rounds of three or more elements, None if r is no look.

    `critical` is for the largest T of all pairs, `leader` for one pair fixed beforehand; of the two noise
    patterns the larger value counts, with its own level.
    """
    looks = [look for look in spending(r, plan) if is_look(elements, look[0])]
    if not looks or looks[-1][0] != r:
        return None
    draws = draws or bell_draws(elements, r)
    spends = [spent for _, spent in looks]
    pairs, leader = [], []
    for pattern in (0, 1):
        paths = [bell_statistics(elements, k, draws, pattern) for k, _ in looks]
        pairs.append(follow([largest for largest, _ in paths], spends)[-1])
        leader.append(follow([first for _, first in paths], spends)[-1])
    critical, level = max(pairs, key=lambda found: found[0])
    spent = spends[-1]
    return {"spent": spent, "critical": critical, "level": level, "leader": max(c for c, _ in leader)}


def is_look(elements, r):
    """Three rounds and four degrees of freedom: five rounds for two elements."""
    return r >= 3 and (elements - 1) * (r - 1) >= 4


@lru_cache(maxsize=512)
def paired_order(r, plan, *, draws=None):
    """{"spent", "order", "level"} of two elements with r rounds, None if r is no look.

    The order m counts in whole steps of the sign-flip test, 2m/2^R (2m/20 000 above 16 rounds): the largest
    for which the share of bell-shaped draws that crossed before, or are among that share of the largest t
    here, stays within the spending.
    """
    looks = [look for look in paired_spending(r, plan) if is_look(2, look[0])]
    if not looks or looks[-1][0] != r:
        return None
    draws = draws or bell_draws(2, r)
    crossed = np.zeros(draws, dtype=bool)
    for k, spent in looks:
        steps = 2**k if k <= MOST_EXACT else 20_000
        highest = math.floor(spent * steps / 2 + 1e-9)
        order = 0
        if highest:
            ranked = np.argsort(-bell_paired_t(k, draws), kind="stable")
            order = _largest_order(crossed, ranked, highest=highest, steps=steps, spent=spent)
            crossed[ranked[: _share(order, steps, draws)]] = True
    return {"spent": looks[-1][1], "order": order, "level": 2 * order / steps} if order else None


def _share(order, steps, draws):
    return math.floor(2 * order / steps * draws + 1e-9)


def _largest_order(crossed, ranked, *, highest, steps, spent):
    draws = len(ranked)
    ever = int(crossed.sum()) + np.concatenate([[0], np.cumsum(~crossed[ranked])])
    order = 0
    for m in range(1, highest + 1):
        if ever[_share(m, steps, draws)] > spent * draws + 1e-9:
            break
        order = m
    return order
