"""The pair statistic: which variance counts, the floor of rounding, and drawn trials against single ones."""

import numpy as np
import pytest

from service.statistics.least_squares import fit
from service.statistics.pair_statistics import pair_table, squared_error
from service.statistics.running_pairs import RunningFit, RunningPairs


def observed(scores, floor=0.0):
    return pair_table(scores, fit(scores), floor=floor, tol=1e-9)


def test_a_noisy_pair_is_judged_by_its_own_variance():
    scores = np.random.default_rng(1).normal(size=(3, 8)) * np.array([[0.1], [0.1], [3.0]])
    table = observed(scores)
    own = np.var(scores[0] - scores[2], ddof=1)
    assert table.standard_error[1] == pytest.approx(np.sqrt(own / 8))
    assert table.standard_error[0] > np.sqrt(np.var(scores[0] - scores[1], ddof=1) / 8)


def test_rounding_of_a_quiet_meter_does_not_average_out():
    """At up to 1.5 floors the squared error stays at the floor; above it falls with the rounds."""
    floor = 0.04
    variance = np.array([0.04, 0.06, 0.0601])
    assert squared_error(variance, np.array(2 / 10), floor=floor) == pytest.approx([0.04, 0.04, 0.00601])


def test_a_difference_without_any_error_is_infinite_and_none_without_difference():
    scores = np.array([[1.0] * 4, [2.0] * 4, [2.0] * 4])
    assert observed(scores).statistic.tolist() == [np.inf, np.inf, 0.0]


def test_decimals_do_not_make_an_error_out_of_nothing():
    """Rounds of exactly equal differences: what is left of 0.1 + 0.2 must not pass for noise."""
    rounds = np.array([0.1, 0.2, 0.3, 0.7])
    scores = np.array([rounds, rounds + 0.1, rounds + 0.4])
    assert np.isinf(observed(scores).statistic).all()


@pytest.mark.parametrize("floor", [0.0, 0.5])
def test_drawn_trials_have_the_statistics_of_single_ones(floor):
    trials = np.random.default_rng(2).normal(size=(5, 4, 7))
    complete, general = RunningPairs(4, 5), RunningFit(4, 5)
    for number in range(7):
        complete.add(trials[:, :, number].T)
        general.add(trials[:, :, number].T, np.ones(4, dtype=bool))
    expected = np.array([observed(trial, floor).statistic for trial in trials]).T
    assert complete.squared_statistics(floor=floor) == pytest.approx(expected**2, rel=1e-9)
    assert general.statistics(floor=floor) == pytest.approx(expected, rel=1e-9)


def test_drawn_incomplete_trials_have_the_statistics_of_single_ones():
    trials = np.random.default_rng(3).normal(size=(5, 4, 6))
    present = np.ones((4, 6), dtype=bool)
    present[[0, 1, 3], [0, 0, 4]] = False
    running = RunningFit(4, 5)
    for number in range(6):
        running.add(trials[:, :, number].T, present[:, number])
    expected = [observed(np.where(present, trial, np.nan)).statistic for trial in trials]
    assert running.statistics(floor=0.0) == pytest.approx(np.array(expected).T, rel=1e-9)
