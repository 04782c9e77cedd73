"""Sign-flip randomisation test of a mean difference, and the interval that inverts it.

Fisher (1935), The Design of Experiments, section 21; Hartigan (1969), Using subsample values as typical
values, Journal of the American Statistical Association 64, 1303-1317. To 16 rounds all 2^R flips and all
non-empty subsets; above, 19 999 drawn ones.
"""

import itertools

import numpy as np

from .plain_draws import SIGN_FLIPS, uniforms, words

MOST_EXACT = 16
DRAWS = 19_999
SUBSETS_DRAWN = 20_200


def in_or_out(count, seed, rounds, draws):
    """0/1 matrix (draws, count): every combination, or drawn word by word, one stream a round."""
    if count <= MOST_EXACT:
        return np.array(list(itertools.product((0, 1), repeat=count)), dtype=float)
    columns = [
        uniforms(words(seed, SIGN_FLIPS, elements=2, round_number=r, shape=(draws,))) < 0.5 for r in rounds
    ]
    return np.column_stack(columns).astype(float)


def sign_flip_p(differences, seed=1, rounds=None):
    """Two-sided p of mean 0 for differences (R,) of the rounds numbered `rounds`, 1, 2, ... if None."""
    d = np.asarray(differences, dtype=float)
    rounds = range(1, len(d) + 1) if rounds is None else rounds
    sums = (1.0 - 2.0 * in_or_out(len(d), seed, rounds, DRAWS)) @ d
    as_large = int(np.sum(np.abs(sums) >= abs(d.sum()) - 1e-9 * np.abs(d).sum()))
    return as_large / len(sums) if len(d) <= MOST_EXACT else (as_large + 1) / (len(sums) + 1)


def subset_means(differences, seed=1, rounds=None):
    """Sorted means of the non-empty subsets: all 2^R - 1, or 19 999 drawn ones."""
    d = np.asarray(differences, dtype=float)
    rounds = range(1, len(d) + 1) if rounds is None else rounds
    chosen = in_or_out(len(d), seed, rounds, SUBSETS_DRAWN)
    sizes = chosen.sum(axis=1)
    means = (chosen @ d)[sizes > 0] / sizes[sizes > 0]
    return np.sort(means if len(d) <= MOST_EXACT else means[:DRAWS])


def sign_flip_interval(differences, order, seed=1, rounds=None):
    """From the `order`-th smallest to the `order`-th largest subset mean; (None, None) for order 0."""
    if order == 0:
        return None, None
    means = subset_means(differences, seed, rounds)
    return float(means[order - 1]), float(means[-order])
