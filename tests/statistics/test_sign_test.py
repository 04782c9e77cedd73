"""The sign test against scipy's binomial test, and at its edges."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binomtest

from service.statistics.sign_test import SignTest, sign_test

QUICK = settings(max_examples=100, deadline=None, database=None, derandomize=True)
COUNT = st.integers(0, 200)


@QUICK
@given(COUNT, COUNT, COUNT)
def test_it_is_the_binomial_test_of_one_half(positive, negative, ties):
    result = sign_test([0.5] * positive + [0.0] * ties + [-3.0] * negative)
    expected = binomtest(positive, positive + negative).pvalue if positive + negative else 1.0
    assert (result.positive, result.negative, result.ties) == (positive, negative, ties)
    assert result.p_value == pytest.approx(expected, rel=1e-9)


def test_what_rounding_leaves_of_a_zero_is_a_tie():
    assert sign_test([0.1 + 0.2 - 0.3, -1e-12, 1.0]) == SignTest(1, 0, 2, 1.0)


@pytest.mark.parametrize("values", [[], [0.0, 0.0]])
def test_without_a_sign_there_is_nothing_against_chance(values):
    assert sign_test(values) == SignTest(0, 0, len(values), 1.0)


def test_four_hundred_rounds_of_one_sign_do_not_underflow():
    assert sign_test(np.ones(400)).p_value == 2.0**-399


@pytest.mark.parametrize("wrong", [[np.inf], [[1.0]]])
def test_other_input_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|finite"):
        sign_test(wrong)
