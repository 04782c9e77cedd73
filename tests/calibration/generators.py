"""Seeded trials with a known truth: scores of shape (trials, K, R) from numpy's Generator.

Every generator takes `means` (K,), the number of trials and of rounds, and a seed; the run-to-run noise has
standard deviation 1 unless told otherwise, so that means are in standard deviations.
What is simulated here is invented; no reading was taken at any mast.
"""

import numpy as np


def tied_on_top(elements, gap):
    """Means (K,) of a partly null trial: the first two share the best, the others stand `gap` behind."""
    means = np.full(elements, -float(gap))
    means[:2] = 0.0
    return means


def one_ahead(elements, gap):
    """Means (K,) with the first `gap` ahead of all others."""
    means = np.zeros(elements)
    means[0] = gap
    return means


def couples(elements, gap):
    """Means (K,) of a partly null trial: 0, 0, -gap, -gap, -2 gap, ...: each with one that equals it."""
    return -float(gap) * (np.arange(elements) // 2)


def of_kind(draw, kind, shape):
    """Noise of standard deviation 1 from a generator at hand: "heavy-tailed", else normal."""
    return draw.standard_t(3, shape) / np.sqrt(3) if kind == "heavy-tailed" else draw.normal(size=shape)


def _around(means, noise):
    return np.asarray(means, dtype=float)[None, :, None] + noise


def normal(means, *, trials, rounds, seed):
    """Normal noise."""
    shape = (trials, len(means), rounds)
    return _around(means, np.random.default_rng(seed).standard_normal(shape))


def heavy_tailed(means, *, trials, rounds, seed):
    """Student's t with 3 degrees of freedom, brought to standard deviation 1."""
    shape = (trials, len(means), rounds)
    return _around(means, np.random.default_rng(seed).standard_t(3, shape) / np.sqrt(3.0))


def skewed(means, *, trials, rounds, seed):
    """Exponential noise about its mean: a long tail above."""
    shape = (trials, len(means), rounds)
    return _around(means, np.random.default_rng(seed).standard_exponential(shape) - 1.0)


def outliers(means, *, trials, rounds, seed, share=0.05, size=6.0):
    """Normal noise; a `share` of the runs is knocked `size` standard deviations down."""
    rng = np.random.default_rng(seed)
    shape = (trials, len(means), rounds)
    knocked = rng.random(shape) < share
    return _around(means, rng.standard_normal(shape) - size * knocked)


def one_noisy(means, *, trials, rounds, seed, times=3.0):
    """Normal noise; the first element is `times` as noisy as the others."""
    noise = np.random.default_rng(seed).standard_normal((trials, len(means), rounds))
    noise[:, 0] *= times
    return _around(means, noise)


def skewed_one_noisy(means, *, trials, rounds, seed, times=3.0):
    """Exponential noise about its mean; the first element is `times` as noisy as the others."""
    noise = np.random.default_rng(seed).standard_exponential((trials, len(means), rounds)) - 1.0
    noise[:, 0] *= times
    return _around(means, noise)


def drifting(means, *, trials, rounds, seed, by_place, fixed_order):
    """Normal noise; readings rise by `by_place` from one place of a round to the next.

    Elements stand in their own order in every round, or in a random one.
    """
    rng = np.random.default_rng(seed)
    shape = (trials, len(means), rounds)
    places = np.broadcast_to(np.arange(len(means))[None, :, None], shape)
    if not fixed_order:
        places = rng.permuted(places, axis=1)
    return _around(means, rng.standard_normal(shape) + by_place * places)


def coarse_meter(means, *, trials, rounds, seed, step=1.0, rf_channels=1):
    """Normal noise read on a meter with the given step.

    The noise of a run (standard deviation 1) is the same on every RF channel; the level of an RF channel
    lies anywhere between two steps, the same for all elements, so equal elements stay equal.
    """
    rng = np.random.default_rng(seed)
    levels = rng.uniform(0.0, step, size=(trials, 1, 1, rf_channels))
    runs = _around(means, rng.standard_normal((trials, len(means), rounds)))
    return _read(runs[..., None] + levels, step).mean(axis=3)


def quiet_coarse_meter(elements, *, trials, rounds, seed, step=1.0, rf_channels=1, sd=0.02):
    """(scores (trials, K, R), true means (trials, K)) of a meter whose step is far above the noise.

    Each element has its own level on each RF channel, anywhere within four steps; its true mean is the
    mean of these levels, its score the mean of what the meter showed. Rounding is then the same in every
    round: a difference of two scores is off by an error of variance step^2 / (6 rf_channels) for good.
    """
    rng = np.random.default_rng(seed)
    levels = rng.uniform(0.0, 4.0 * step, size=(trials, elements, 1, rf_channels))
    noise = sd * rng.standard_normal((trials, elements, rounds, rf_channels))
    return _read(levels + noise, step).mean(axis=3), levels.mean(axis=(2, 3))


def rounding_floor(step, rf_channels):
    """Variance of the rounding error of a difference of two scores."""
    return step**2 / (6.0 * rf_channels)


def _read(level, step):
    return np.round(level / step) * step


NOISES = {
    "normal": normal,
    "heavy-tailed": heavy_tailed,
    "skewed": skewed,
    "outliers": outliers,
    "coarse meter": coarse_meter,
    "one noisy": one_noisy,
}
