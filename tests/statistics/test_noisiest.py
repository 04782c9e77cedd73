"""The noisiest element against the same test done the long way, its law by simulation, and its edges."""

import numpy as np
import pytest
from scipy.stats import binom
from scipy.stats import f as snedecor

from service.statistics.noisiest import noisiest


def the_long_way(scores, k):
    """F and the two sds of element k, from its deviations and a regression of the others among themselves."""
    others = np.delete(scores, k, axis=0)
    deviation = scores[k] - others.mean(axis=0)
    left = others - others.mean(axis=0) - others.mean(axis=1, keepdims=True) + others.mean()
    freedom = (len(others) - 1) * (scores.shape[1] - 1)
    ms = (left**2).sum() / freedom
    own = deviation.var(ddof=1)
    return own / (ms * (1 + 1 / len(others))), max(0.0, own - ms / len(others)) ** 0.5, ms**0.5, freedom


@pytest.mark.parametrize("shape", [(3, 3), (3, 6), (8, 5)])
def test_it_is_the_largest_of_the_ratios(shape):
    for seed in range(20):
        draw = np.random.default_rng([*shape, seed])
        scores = draw.normal(size=shape) + 5 * draw.normal(size=shape[1])
        ratios = [the_long_way(scores, k) for k in range(shape[0])]
        result = noisiest(scores)
        assert result.element == int(np.argmax([ratio for ratio, *_ in ratios]))
        statistic, sd, others_sd, freedom = ratios[result.element]
        assert result.statistic == pytest.approx(statistic, rel=1e-9)
        assert (result.sd, result.others_sd) == pytest.approx((sd, others_sd), rel=1e-9)
        assert result.times == pytest.approx(sd / others_sd, rel=1e-9)
        tail = snedecor.sf(statistic, shape[1] - 1, freedom)
        assert result.p_value == pytest.approx(min(1.0, shape[0] * tail), rel=1e-8)


@pytest.mark.parametrize("shape", [(3, 6), (6, 4)])
def test_equal_noise_is_called_unequal_as_often_as_said(shape):
    draw, trials = np.random.default_rng(7), 3000
    called = sum(noisiest(draw.normal(size=shape)).p_value <= 0.05 for _ in range(trials))
    low, high = binom.ppf([0.0005, 0.9995], trials, 0.05)
    assert 0.6 * low <= called <= high  # Bonferroni's bound is an upper one


def test_three_times_the_noise_is_estimated_as_such():
    draw = np.random.default_rng(3)
    scores = draw.normal(size=(5, 2000)) * np.array([[1.0], [1.0], [3.0], [1.0], [1.0]])
    result = noisiest(scores)
    assert (result.element, result.times) == (2, pytest.approx(3.0, rel=0.05))


def test_rounding_alone_is_not_quieter_than_rounding():
    scores = np.full((3, 6), 5.0)
    scores[1, ::2] += 0.1
    assert noisiest(scores) is None
    assert noisiest(scores, least_variance=0.1**2 / 12).p_value > 0.02


def test_with_two_elements_or_two_rounds_it_cannot_be_told():
    draw = np.random.default_rng(1)
    assert noisiest(draw.normal(size=(2, 9))) is None
    assert noisiest(draw.normal(size=(9, 2))) is None
