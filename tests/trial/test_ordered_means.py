"""Means that do not depend on the order of their values."""

import math

import numpy as np
import pytest

from service.trial.ordered_means import ordered_means, ordered_sum

WILD = np.array([1e16, 1.0, -1e16, 3.0, 1e-9, 0.1, 0.2, 0.3])


def test_values_are_added_in_ascending_order_from_left_to_right():
    expected = (((-1e16 + 0.1) + 1.0) + 1e16) / 4  # rounding swallows the small ones: the order shows
    assert ordered_means(np.array([1e16, 1.0, -1e16, 0.1]), np.zeros(4, dtype=np.int64), 1)[0] == expected
    assert ordered_sum(np.array([1e16, 1.0, -1e16, 0.1])) == expected * 4


def test_the_order_of_values_changes_no_bit():
    random = np.random.default_rng(2)
    group = np.array([0, 1, 0, 1, 0, 1, 0, 1])
    expected = ordered_means(WILD, group, 2)
    for _ in range(50):
        order = random.permutation(len(WILD))
        assert (ordered_means(WILD[order], group[order], 2) == expected).all()


def test_a_group_without_values_has_no_mean():
    means = ordered_means(np.array([2.0, 4.0]), np.array([2, 2]), 4)
    assert np.isnan(means[[0, 1, 3]]).all()
    assert means[2] == 3.0


@pytest.mark.parametrize("place", range(3))
def test_a_nan_makes_the_mean_of_its_group_nan(place):
    values = np.array([1.0, 2.0, 3.0, 4.0])
    values[place] = math.nan
    means = ordered_means(values, np.array([0, 0, 0, 1]), 2)
    assert math.isnan(means[0])
    assert means[1] == 4.0


def test_nothing_sums_to_nothing():
    assert ordered_sum(np.array([])) == 0.0
