"""Limits of a difference with two noises: as scipy's Welch test has them, and as often wrong as said."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.welch_limits import joined_by_reference, over_samples


@pytest.mark.parametrize(("n1", "n0", "alpha"), [(3, 9, 0.05), (6, 6, 0.05), (12, 4, 0.1)])
def test_joined_by_a_reference_as_scipy_has_it(n1, n0, alpha):
    draw = np.random.default_rng(n1)
    now, then = draw.normal(2, 1, n1), draw.normal(1, 3, n0)
    found = joined_by_reference(now, then, alpha)
    reference = stats.ttest_ind(now, then, equal_var=False)
    both_sides = reference.confidence_interval(1 - 2 * alpha)
    assert (found.low, found.high) == pytest.approx((both_sides.low, both_sides.high), rel=1e-12)
    assert found.degrees_of_freedom == pytest.approx(reference.df, rel=1e-12)
    assert found.level == 1 - alpha


def test_a_reference_needs_three_rounds_on_both_days_and_some_noise():
    three = np.array([1.0, 2.0, 4.0])
    assert joined_by_reference(three[:2], three, 0.05) is None
    assert joined_by_reference(three, three[:2], 0.05) is None
    assert joined_by_reference(np.ones(4), np.zeros(5), 0.05) is None


@pytest.mark.parametrize(("samples", "rounds"), [(3, 6), (6, 4), (2, 6), (6, 2)])
def test_samples_need_three_of_each(samples, rounds):
    differences = np.random.default_rng(1).normal(size=(samples, rounds))
    assert (over_samples(differences, 0.05) is None) == (min(samples, rounds) < 3)


@pytest.mark.parametrize(("between", "baseline"), [(0.0, 1.0), (1.0, 1.0), (1.0, 0.2)])
def test_samples_of_a_design_are_wrong_no_oftener_than_said(between, baseline):
    draw = np.random.default_rng(7)
    trials, samples, rounds = 1_500, 4, 6
    wrong = 0
    for _ in range(trials):
        levels = draw.normal(scale=between, size=(samples, 1))
        noise = draw.normal(size=(samples, rounds)) - draw.normal(scale=baseline, size=rounds)
        wrong += over_samples(levels + noise, 0.05).low > 0.0
    assert wrong <= stats.binom.ppf(0.999, trials, 0.05)
