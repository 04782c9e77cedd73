"""What counts as equal, and midranks."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import rankdata

from service.statistics.ties import doubled_midranks, finite_array, tolerance

QUICK = settings(max_examples=60, deadline=None, database=None, derandomize=True)


@QUICK
@given(st.lists(st.integers(-4, 4), min_size=1, max_size=30))
def test_midranks_are_those_of_scipy(values):
    found = doubled_midranks(np.array(values, dtype=float), 1e-9)
    assert found.tolist() == (2 * rankdata(values)).astype(int).tolist()


def test_decimals_tie_where_the_tenths_they_stand_for_tie():
    tenths = np.array([0.1 + 0.2, 0.3, 0.7 - 0.4, 0.4, 0.5 - 0.1, 0.1])
    assert len(set(tenths.tolist())) > 3
    assert doubled_midranks(tenths, tolerance(tenths)).tolist() == [6, 6, 6, 11, 11, 2]


def test_ranks_are_taken_along_the_last_axis():
    table = np.array([[3.0, 1.0, 2.0], [5.0, 5.0, 4.0]])
    assert doubled_midranks(table, 1e-9).tolist() == [[6, 2, 4], [5, 5, 2]]


def test_the_tolerance_grows_with_the_largest_magnitude_only_above_one():
    assert tolerance(np.array([])) == 1e-9
    assert tolerance(np.array([0.001, -0.5])) == 1e-9
    assert tolerance(np.array([2.0, -70.0])) == pytest.approx(7e-8)


def test_no_values_have_no_ranks():
    assert doubled_midranks(np.array([]), 1e-9).shape == (0,)


@pytest.mark.parametrize("wrong", [[1.0, np.nan], [np.inf], [[1.0, 2.0]], 3.0])
def test_what_is_no_row_of_finite_numbers_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|finite"):
        finite_array(wrong, 1)
