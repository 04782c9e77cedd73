"""Through a reference with few rounds: how often three kinds of limits are wrong, and what each costs.

Given the two variances that were seen, the chance that the lower limit lies above is a normal one; it is
averaged over drawn variances, so that few draws suffice. `design_checks` writes it into its page.
"""

from itertools import product

import numpy as np
from scipy.special import ndtr, stdtrit

ALPHA = 0.05
DRAWS = 40_000
ROUNDS = ((3, 3), (3, 6), (3, 12), (4, 12), (5, 5), (5, 12), (6, 6), (6, 12), (12, 12))
RATIOS = (0.2, 0.45, 1.0, 2.2, 5.0)
"""Noise of the side with fewer rounds, that of the other 1, both of differences to the reference. One
candidate three times as noisy as its reference, against a baseline as noisy, has 2.2."""
BETTER = 2.0  # margin in standard deviations of a difference, for the power
KINDS = ("Welch", "smaller side", "Banerjee")
HEAD = """
## Few rounds through a reference

Three kinds of limits at a one-sided 0.05: Welch's; Student's with the degrees of freedom of the side with
fewer rounds; Banerjee's. `wrong`: the worst over noises of the side with fewer rounds from 0.2 to 5 times
those of the other. `power`: a candidate as good as the baseline holds, both sides equally noisy, the margin
two standard deviations of a difference to the reference. Checks use Welch's from six rounds of each on and
Banerjee's below.

"""


def critical_values(kind, variances, freedoms, alpha):
    """Limit over standard error, (draws,), for the variances (2, draws) of two means."""
    share = variances / variances.sum(axis=0)
    if kind == "smaller side":
        return np.full(variances.shape[1], -stdtrit(min(freedoms), alpha))
    if kind == "Welch":
        freedom = 1.0 / (share[0] ** 2 / freedoms[0] + share[1] ** 2 / freedoms[1])
        return -stdtrit(freedom, alpha)
    squares = [stdtrit(df, alpha) ** 2 for df in freedoms]
    return np.sqrt(share[0] * squares[0] + share[1] * squares[1])


def passes(kind, rounds, ratio, *, worse=0.0, alpha=ALPHA, seed=3):
    """Chance that one that is a margin worse holds; `worse` below 0: better by so many sd of a difference."""
    draw = np.random.default_rng(seed)
    freedoms = [number - 1 for number in rounds]
    true = np.array([[ratio**2 / rounds[0]], [1.0 / rounds[1]]])
    seen = true * np.array([draw.chisquare(df, DRAWS) / df for df in freedoms])
    reach = critical_values(kind, seen, freedoms, alpha) * np.sqrt(seen.sum(axis=0))
    return float(ndtr((-worse - reach) / np.sqrt(true.sum())).mean())


def worst(kind, rounds, alpha=ALPHA):
    """The largest chance over all ratios of the noises."""
    return max(passes(kind, rounds, ratio, alpha=alpha) for ratio in RATIOS)


def page():
    """The part of the page."""
    heads = " | ".join(f"{kind}, {what}" for what, kind in product(("wrong", "power"), KINDS))
    lines = [f"| rounds | {heads} |", f"| --- |{' ---: |' * 2 * len(KINDS)}"]
    for rounds in ROUNDS:
        wrong = [f"{worst(kind, rounds):.3f}" for kind in KINDS]
        power = [f"{passes(kind, rounds, 1.0, worse=-BETTER):.2f}" for kind in KINDS]
        lines.append(f"| {rounds[0]} and {rounds[1]} | {' | '.join(wrong + power)} |")
    return HEAD + "\n".join(lines) + "\n"
