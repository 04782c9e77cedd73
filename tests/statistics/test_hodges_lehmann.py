"""The Hodges-Lehmann estimate and interval: by definition, by the test it belongs to, and at its edges."""

from itertools import combinations_with_replacement

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.statistics.hodges_lehmann import HodgesLehmann, hodges_lehmann
from service.statistics.signed_rank import signed_rank

QUICK = settings(max_examples=60, deadline=None, database=None, derandomize=True)
VALUES = st.lists(st.integers(-50, 50), min_size=6, max_size=14)


def untied(seed: int, n: int) -> np.ndarray:
    return np.random.Generator(np.random.Philox(seed)).normal(size=n)


@QUICK
@given(VALUES)
def test_the_estimate_is_the_median_of_all_averages_of_two(values):
    averages = [(a + b) / 2 for a, b in combinations_with_replacement(values, 2)]
    result = hodges_lehmann(values, 0.95)
    assert result.estimate == np.median(averages)
    assert result.low <= result.estimate <= result.high


@pytest.mark.parametrize("n", [6, 9, 20])
@pytest.mark.parametrize("level", [0.8, 0.95, 0.99])
def test_the_interval_holds_what_the_signed_rank_test_does_not_reject(n, level):
    values = untied(n, n)
    result = hodges_lehmann(values, level)
    if result.low is None:
        assert signed_rank(np.abs(values)).p_value > 1 - level
        return
    step = 1e-6
    for inside, outside in ((result.low + step, result.low - step), (result.high - step, result.high + step)):
        assert signed_rank(values - inside).p_value > 1 - level
        assert signed_rank(values - outside).p_value <= 1 - level


@pytest.mark.parametrize("n", [6, 9, 20])
def test_the_level_achieved_is_one_less_the_p_just_outside(n):
    values = untied(n, n)
    result = hodges_lehmann(values, 0.95)
    assert result.level >= 0.95
    assert result.level == pytest.approx(1 - signed_rank(values - (result.low - 1e-6)).p_value, rel=1e-12)


@QUICK
@given(VALUES, st.integers(-9, 9))
def test_it_moves_with_the_values_and_turns_with_them(values, shift):
    result = hodges_lehmann(values, 0.9)
    moved = hodges_lehmann([shift - value for value in values], 0.9)
    assert moved == HodgesLehmann(
        shift - result.estimate, shift - result.high, shift - result.low, result.level
    )


def test_zeros_are_kept_among_the_averages():
    assert hodges_lehmann([0.0, 0.0, 1.0], 0.95).estimate == 0.25
    assert hodges_lehmann([0.0, 0.0, 0.0, 1.0], 0.95).estimate == 0.0


@pytest.mark.parametrize(("n", "level"), [(5, 0.95), (7, 0.99), (1, 0.8)])
def test_too_few_rounds_have_an_estimate_and_no_interval(n, level):
    assert hodges_lehmann([1.5] * n, level) == HodgesLehmann(1.5, None, None, None)


def test_a_level_that_is_met_exactly_is_met():
    assert hodges_lehmann([1, 2, 3, 4, 5], 0.9375) == HodgesLehmann(3.0, 1.0, 5.0, 0.9375)


def test_without_differences_there_is_nothing():
    assert hodges_lehmann([], 0.95) == HodgesLehmann(None, None, None, None)


def test_four_hundred_rounds_come_near_the_interval_of_the_normal_law():
    values = untied(2, 400)
    result = hodges_lehmann(values, 0.95)
    assert result.high - result.low == pytest.approx(2 * 1.96 * values.std() / 20, rel=0.1)
    assert 0.95 <= result.level < 0.9501


@pytest.mark.parametrize(
    ("values", "level"), [([1.0, np.nan], 0.95), ([[1.0]], 0.95), ([1.0], 95), ([1.0], 0)]
)
def test_other_input_is_refused(values, level):
    with pytest.raises(ValueError, match=r"dimensions given|finite|level"):
        hodges_lehmann(values, level)
