"""The step in a series against the two-sample t test at every place, and at its edges."""

import numpy as np
import pytest
from scipy.stats import ttest_ind

from service.statistics.level_shift import level_shift


def brute(series):
    """Place, shift and adjusted p by scipy, one split after the other."""
    places = range(2, len(series) - 1)
    tests = {place: ttest_ind(series[place:], series[:place]) for place in places}
    best = max(places, key=lambda place: abs(tests[place].statistic))
    return best, tests[best].statistic, min(1.0, len(places) * tests[best].pvalue)


@pytest.mark.parametrize("runs", [4, 5, 8, 30])
def test_it_is_the_largest_of_the_t_tests(runs):
    for seed in range(20):
        series = np.random.default_rng([runs, seed]).normal(40.0, 1.0, runs)
        place, statistic, p_value = brute(series)
        result = level_shift(series)
        assert result.before == place
        assert result.statistic == pytest.approx(statistic, rel=1e-8)
        assert result.p_value == pytest.approx(p_value, rel=1e-7)
        assert result.shift == pytest.approx(series[place:].mean() - series[:place].mean(), rel=1e-8)


def test_a_step_is_found_where_it_is():
    result = level_shift([5.0, 5.1, 4.9, 5.0, 7.0, 7.1])
    assert (result.before, result.shift) == (4, pytest.approx(2.05))
    assert result.p_value < 0.001


def test_a_single_run_out_of_line_is_no_lasting_step():
    assert level_shift([5.0, 5.1, 4.9, 5.0, 5.1, 9.0]).p_value > 0.2


def test_a_quiet_meter_does_not_see_a_step_in_its_last_digit():
    series = [5.0, 5.0, 5.0, 5.1, 5.1, 5.1]
    assert level_shift(series).p_value < 0.001
    assert level_shift(series, least_variance=0.1**2 / 12).p_value > 0.02


def test_too_short_or_without_any_change_there_is_nothing_to_test():
    assert level_shift([1.0, 2.0, 3.0]) is None
    assert level_shift([0.3, 0.1 + 0.2, 0.3, 0.3]) is None
