"""Limits of a difference with two noises: Welch's as scipy has them, Banerjee's with few rounds."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.welch_limits import TwoNoises, is_few, joined_by_reference, over_samples


@pytest.mark.parametrize(("n1", "n0", "alpha"), [(6, 9, 0.05), (6, 6, 0.05), (12, 7, 0.1)])
def test_from_six_rounds_on_as_scipys_welch_test_has_it(n1, n0, alpha):
    draw = np.random.default_rng(n1)
    now, then = draw.normal(2, 1, n1), draw.normal(1, 3, n0)
    found = joined_by_reference(now, then, alpha)
    reference = stats.ttest_ind(now, then, equal_var=False)
    both_sides = reference.confidence_interval(1 - 2 * alpha)
    assert (found.low, found.high) == pytest.approx((both_sides.low, both_sides.high), rel=1e-12)
    assert found.noises.freedom == pytest.approx(reference.df, rel=1e-12)
    assert found.level == 1 - alpha


@pytest.mark.parametrize(("n1", "n0", "alpha"), [(3, 9, 0.05), (5, 12, 0.01), (12, 4, 0.1)])
def test_below_six_rounds_each_noise_has_its_own_quantile(n1, n0, alpha):
    """Banerjee's limits by scipy's own t, and never narrower than Welch's by the more certain noise alone."""
    draw = np.random.default_rng(n1)
    now, then = draw.normal(2, 1, n1), draw.normal(1, 3, n0)
    found = joined_by_reference(now, then, alpha)
    parts = [(day.var(ddof=1) / len(day), stats.t.isf(alpha, len(day) - 1)) for day in (now, then)]
    assert found.high - found.difference == pytest.approx(np.sqrt(sum(v * t**2 for v, t in parts)), rel=1e-12)
    assert found.difference - found.low == pytest.approx(found.high - found.difference, rel=1e-12)


def test_with_equal_rounds_the_few_have_students_quantile():
    now, then = np.array([1.0, 2.0, 4.0]), np.array([0.5, 0.1, 0.4])
    found = joined_by_reference(now, then, 0.05)
    error = np.sqrt((now.var(ddof=1) + then.var(ddof=1)) / 3)
    assert found.high - found.difference == pytest.approx(stats.t.isf(0.05, 2) * error)


@pytest.mark.parametrize(("counts", "few"), [((5, 12), True), ((12, 5), True), ((6, 6), False)])
def test_fewer_than_six_of_either_are_few(counts, few):
    assert is_few(*counts) == few
    assert TwoNoises((1.0, 1.0), (counts[0] - 1, counts[1] - 1)).few == few


@pytest.mark.parametrize("freedoms", [(2, 11), (4, 4), (5, 11)])
def test_p_is_the_alpha_whose_limit_reaches_just_so_far(freedoms):
    noises = TwoNoises((0.7, 0.4), freedoms)
    for alpha in (1e-9, 0.003, 0.05, 0.49):
        reach = noises.reach(alpha)
        assert noises.beyond(reach) == pytest.approx(alpha, rel=1e-6)
        assert noises.beyond(-reach) == pytest.approx(1 - alpha, rel=1e-9)
    assert noises.beyond(0.0) == pytest.approx(0.5)


def test_p_of_a_difference_far_beyond_all_noise_is_nothing():
    assert TwoNoises((1e-30, 1e-30), (3, 11)).beyond(1e100) == 0.0
    nothing = TwoNoises((0.0, 0.0), (3, 3))
    assert (nothing.beyond(0.1), nothing.beyond(0.0), nothing.reach(0.05)) == (0.0, 1.0, 0.0)


def test_a_reference_needs_three_rounds_on_both_days_and_some_noise():
    three = np.array([1.0, 2.0, 4.0])
    assert joined_by_reference(three[:2], three, 0.05) is None
    assert joined_by_reference(three, three[:2], 0.05) is None
    assert joined_by_reference(np.ones(4), np.zeros(5), 0.05) is None
    assert joined_by_reference(np.ones(7), np.zeros(8), 0.05) is None


@pytest.mark.parametrize(("samples", "rounds"), [(3, 6), (6, 4), (2, 6), (6, 2)])
def test_samples_need_three_of_each(samples, rounds):
    differences = np.random.default_rng(1).normal(size=(samples, rounds))
    assert (over_samples(differences, 0.05) is None) == (min(samples, rounds) < 3)


@pytest.mark.parametrize(("samples", "rounds"), [(4, 9), (7, 6)])
def test_samples_and_rounds_are_two_noises(samples, rounds):
    differences = np.random.default_rng(2).normal(size=(samples, rounds))
    found = over_samples(differences, 0.05)
    by_sample, by_round = differences.mean(axis=1), differences.mean(axis=0)
    variances = by_sample.var(ddof=1) / samples, by_round.var(ddof=1) / rounds
    reach = TwoNoises(variances, (samples - 1, rounds - 1)).reach(0.05)
    assert (found.low, found.high) == pytest.approx((differences.mean() - reach, differences.mean() + reach))


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
