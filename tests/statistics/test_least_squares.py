"""The fit of element and round effects, worked by hand; `tests/check_values` holds it against a library."""

import numpy as np
import pytest

from service.statistics.least_squares import (
    fit,
    in_fit,
    information,
    information_inverse,
    joined,
    variance_factors,
)
from service.statistics.pair_statistics import pair_indices

NAN = np.nan


def table(missing, *, elements=4, rounds=6, seed=1):
    scores = np.random.default_rng(seed).normal(5, 1, size=(elements, rounds))
    for k, r in missing:
        scores[k, r] = NAN
    return scores


def test_complete_rounds_give_plain_means_and_two_over_rounds():
    scores = table([])
    found = fit(scores)
    assert np.array_equal(found.effects, scores.mean(axis=1))
    assert variance_factors(found.inverse, *pair_indices(4)) == pytest.approx(np.full(6, 2 / 6), abs=1e-15)


def test_a_round_without_any_run_takes_no_degree_of_freedom():
    scores = table([(0, 1)])
    gap = np.insert(scores, 2, NAN, axis=1)
    assert fit(gap).degrees_of_freedom == fit(scores).degrees_of_freedom == 4 * 6 - 1 - (4 + 6 - 1)


def test_a_nearly_complete_trial_has_no_stray_eigenvalue():
    """Eleven elements, three runs missing: the constant must be cut off exactly, or factors are 1 % off."""
    present = np.ones((11, 5), dtype=bool)
    present[[2, 3, 9], [1, 2, 2]] = False
    inverse = information_inverse(information(present))
    assert np.abs(inverse).max() < 1
    assert inverse.sum(axis=0) == pytest.approx(np.zeros(11), abs=1e-12)


def test_elements_without_a_shared_round_are_apart():
    present = np.array([[1, 1, 0, 0], [1, 0, 0, 0], [0, 0, 1, 1], [0, 0, 0, 1]], dtype=bool)
    assert joined(present).tolist() == [0, 0, 2, 2]


def test_a_chain_of_shared_rounds_joins():
    present = np.array([[1, 0, 0], [1, 1, 0], [0, 1, 1], [0, 0, 1]], dtype=bool)
    assert len(set(joined(present))) == 1


def test_a_round_that_holds_one_of_each_joins_two_groups():
    present = np.array([[1, 0, 0], [1, 0, 1], [0, 1, 1], [0, 1, 0]], dtype=bool)
    assert joined(present).tolist() == [0, 0, 0, 0]


def test_effects_are_the_scores_of_the_average_round_though_runs_are_missing():
    elements, rounds = np.array([2.9, 8.9, 4.0]), np.array([7.8, 3.5, 6.9, 0.4])
    scores = np.add.outer(elements, rounds)
    scores[[0, 2, 2], [0, 1, 3]] = NAN
    assert fit(scores).effects == pytest.approx(elements + rounds.mean(), abs=1e-12)


def test_the_largest_group_is_compared_and_of_equal_ones_the_best():
    scores = np.array([[1, 1, NAN, NAN], [1, 2, NAN, NAN], [NAN, NAN, 9, 9], [NAN, NAN, 3, 4]])
    assert in_fit(scores, fewest_runs=2).tolist() == [False, False, True, True]
    larger = np.vstack([scores, [[2, 2, NAN, NAN]]])
    assert in_fit(larger, fewest_runs=2).tolist() == [True, True, False, False, True]


def test_too_few_runs_leave_an_element_out():
    scores = np.array([[1, 1, 1], [2, 2, 2], [3, 3, NAN]])
    assert in_fit(scores, fewest_runs=3).tolist() == [True, True, False]
    assert not in_fit(scores, fewest_runs=4).any()


def test_an_element_with_too_few_runs_joins_nobody():
    scores = np.full((5, 6), NAN)
    scores[:2, :3], scores[2:4, 3:], scores[4, 2:4] = 5.0, 4.0, 9.0
    assert in_fit(scores, fewest_runs=3).tolist() == [True, True, False, False, False]


@pytest.mark.parametrize(
    ("competing", "compared"),
    [
        ([True, False, True, False, False, False], [2, 3, 4, 5]),
        ([True, True, True, False, False, False], [0, 1]),
    ],
)
def test_a_group_counts_by_those_that_compete_and_then_by_all_it_holds(competing, compared):
    scores = np.full((6, 4), NAN)
    scores[:2, :2], scores[2:, 2:] = 5.0, 4.0
    found = in_fit(scores, fewest_runs=2, competing=np.array(competing))
    assert np.flatnonzero(found).tolist() == compared


def test_those_with_too_few_runs_are_no_group_however_many_they_are():
    scores = np.full((5, 3), 5.0)
    scores[:3, 1:] = NAN
    assert in_fit(scores, fewest_runs=3).tolist() == [False, False, False, True, True]
