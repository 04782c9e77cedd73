"""Checks by limits of Welch's kind: Holm's steps, outcomes, and what rounding leaves."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from scipy import stats

from service.statistics.non_inferiority import FALLS_SHORT, HOLDS
from service.statistics.results import NEEDS_MORE_RUNS
from service.statistics.welch_checks import welch_checks
from service.statistics.welch_limits import joined_by_reference, over_samples

THEN = np.array([0.2, -0.1, 0.0, 0.3, -0.2, -0.2])


def checks(*levels, margin=1.0, rounds=6):
    rows = [level + np.resize([0.3, -0.3, 0.1, -0.1, 0.2, -0.2], rounds) for level in levels]
    limits = [partial(joined_by_reference, row, THEN) for row in rows]
    return rows, welch_checks(limits, margin=margin, alpha=0.05, rounds=[rounds] * len(rows))


@pytest.mark.parametrize(("level", "outcome"), [(0.0, HOLDS), (-1.0, NEEDS_MORE_RUNS), (-2.0, FALLS_SHORT)])
def test_each_outcome_is_reached_with_scipys_p(level, outcome):
    (row,), (found,) = checks(level)
    assert (found.outcome, found.decided_at) == (outcome, None if outcome == NEEDS_MORE_RUNS else 6)
    reference = stats.ttest_ind(row + 1.0, THEN, equal_var=False, alternative="greater")
    assert found.p_value == pytest.approx(reference.pvalue, rel=1e-9)


def test_steps_are_holms_and_after_the_first_that_does_not_hold_none_does():
    """p 0.02 and 0.04: the smaller at 0.025, then the other at 0.05; with the smaller at 0.03 neither."""
    steps = []

    def limits_at(p):
        def at(alpha):
            steps.append((p, alpha))
            found = joined_by_reference(THEN, THEN, alpha)
            edge = stats.t.isf(p, found.noises.freedom) * found.noises.error - 1.0
            reach = found.high - found.difference
            return replace(found, difference=edge, low=edge - reach, high=edge + reach)

        return at

    def outcomes(*p_values):
        found = welch_checks(
            [limits_at(p) for p in p_values], margin=1.0, alpha=0.05, rounds=[6] * len(p_values)
        )
        assert [one.p_value for one in found] == pytest.approx(p_values)
        return [one.outcome == HOLDS for one in found]

    assert outcomes(0.04, 0.02) == [True, True]
    assert steps[-2:] == [(0.02, 0.025), (0.04, 0.05)]
    assert outcomes(0.03, 0.04) == [False, False]
    assert outcomes(0.01, 0.06) == [True, False]


def test_without_limits_more_runs_are_needed():
    (found,) = welch_checks([lambda _alpha: None], margin=1.0, alpha=0.05, rounds=[2])
    assert (found.outcome, found.p_value, found.rounds) == (NEEDS_MORE_RUNS, None, 2)
    assert np.isnan(found.low)


def test_rounding_of_a_quiet_meter_does_not_average_out():
    quiet = np.zeros(50)
    assert joined_by_reference(quiet, quiet, 0.05) is None
    found = joined_by_reference(quiet, quiet, 0.05, floors=(0.04, 0.05))
    assert (found.low, found.high) == pytest.approx((-0.6, 0.6))
    noisy = np.resize([1.0, -1.0], 50)
    free = joined_by_reference(noisy, noisy, 0.05)
    assert joined_by_reference(noisy, noisy, 0.05, floors=(0.04, 0.05)) == free
    samples = over_samples(np.zeros((3, 9)), 0.05, floor=0.04)
    assert (samples.low, samples.high) == pytest.approx((-0.4, 0.4))
    (check,) = welch_checks(
        [partial(joined_by_reference, quiet, quiet, floors=(0.04, 0.05))], margin=0.5, alpha=0.05, rounds=[50]
    )
    assert (check.outcome, check.p_value) == (NEEDS_MORE_RUNS, 0.0)
