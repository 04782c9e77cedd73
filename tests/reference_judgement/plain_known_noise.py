"""Judging one or two rounds by a noise that is known from repeated mountings.

Studentised range for unequal numbers: Tukey (1953) and Kramer (1956), Biometrics 12, 307-310.
"""

import math
from types import SimpleNamespace

import numpy as np
from scipy.stats import studentized_range, t

from .plain_fit import all_pairs, effects_and_residuals, fewer_runs

SAFETY = 1.25
FEWEST_DF = 9


def mountings_of(rule, table):
    """Mountings of every run, (K, R): those told, else one where a run is held."""
    if rule.repeats is None:
        return (~np.isnan(table)).astype(int)
    return np.asarray(rule.repeats[0])[:, : table.shape[1]]


def halves_alpha(known, repeats):
    """Whether a part of alpha is set aside for the first two rounds."""
    if known is not None or repeats is None:
        return known is not None
    return int(np.sum(np.maximum(np.asarray(repeats[0])[:, :2] - 1, 0))) >= FEWEST_DF


def _residuals_by_mounting(table, fit, mountings):
    """Residual sum of squares and df over elements and rounds, a run counted once a mounting."""
    elements, rounds = np.nonzero(~np.isnan(table[fit]))
    weight = np.sqrt(mountings[fit][elements, rounds])
    matrix = np.zeros((len(elements), len(fit) + table.shape[1]))
    matrix[np.arange(len(elements)), elements] = weight
    matrix[np.arange(len(elements)), len(fit) + rounds] = weight
    response = weight * (table[fit] - np.nanmean(table[fit]))[elements, rounds]
    fitted = matrix @ (np.linalg.pinv(matrix) @ response)
    df = len(elements) - int(np.linalg.matrix_rank(matrix))
    return float(np.sum((response - fitted) ** 2)), df


def _pooled(sources):
    """(sd, df) of [(sum of squares, df)]."""
    df = sum(source[1] for source in sources)
    return math.sqrt(sum(source[0] for source in sources) / df), df


def known_noise_look(table, fit, rule):
    """{(i, j): interval and the like} of the elements of `fit`, or None where the noise is not known."""
    if rule.known is None and rule.repeats is None:
        return None
    mountings = mountings_of(rule, table)
    sources = [(rule.known[0] ** 2 * rule.known[1], rule.known[1])] if rule.known else []
    if rule.repeats is not None:
        within = np.asarray(rule.repeats[1], dtype=float)[:, : table.shape[1]]
        sources.append((float(within.sum()), int(np.sum(np.maximum(mountings - 1, 0)))))
    if sum(df for _, df in sources) < FEWEST_DF:
        return None
    sd, df = _pooled([*sources, _residuals_by_mounting(table, fit, mountings)])
    effects = effects_and_residuals((table[fit] - np.nanmean(table[fit]))[None])[0][0]
    counts = mountings.sum(axis=1)
    return known_noise_pairs(fit, effects, counts, sd=SAFETY * sd, df=df, alpha=rule.plan.alpha)


def known_noise_pairs(fit, effects, counts, *, sd, df, alpha):
    """`alpha` is the half that is left: intervals at it, the leader's at a half of it on each side."""
    widest = float(studentized_range.ppf(1.0 - alpha, len(fit), df)) / math.sqrt(2.0)
    leader = float(t.ppf(1.0 - alpha / 2.0, df))
    pairs = {}
    for a, b in all_pairs(range(len(fit))):
        i, j = fit[a], fit[b]
        difference = float(effects[a] - effects[b])
        se = sd * math.sqrt(1.0 / counts[i] + 1.0 / counts[j])
        statistic = math.inf if se == 0.0 else abs(difference) / se
        pairs[i, j] = SimpleNamespace(
            difference=difference,
            se=se,
            low=difference - widest * se,
            high=difference + widest * se,
            leader_low=difference - leader * se,
            leader_high=difference + leader * se,
            adjusted_p=float(studentized_range.sf(statistic * math.sqrt(2.0), len(fit), df)),
            critical=widest,
            leader_critical=leader,
            held=fewer_runs,
        )
    return pairs
