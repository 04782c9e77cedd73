"""Sign flips: exact against drawn, ties at zero, and an interval that is the test turned round."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.statistics.looks import step_cells
from service.statistics.sign_flip import flip_interval, sign_flip, sign_flips

numbers = st.lists(st.integers(-40, 40), min_size=2, max_size=9)


@given(numbers)
def test_zeros_and_signs_leave_the_p_value_as_it_should_be(values):
    differences = np.array(values) / 10
    found = sign_flip(differences, seed=1).p_value
    assert found == sign_flip(-differences, seed=1).p_value
    assert found == sign_flip(np.append(differences, 0.0), seed=1).p_value
    assert 2 / 2 ** len(values) <= found <= 1


@given(numbers, st.integers(1, 3))
def test_the_interval_holds_the_shifts_that_the_test_does_not_reject(values, order):
    """A centre just inside the order-th subset mean has p above 2m/2^R, one just outside has not."""
    differences = np.array(values, dtype=float)
    cells = 2 ** len(values)
    order = min(order, cells // 2 - 1)
    low, high = flip_interval(differences, order, seed=1)
    level = 2 * order / cells
    for centre, inside in ((low - 1e-3, False), (low + 1e-3, low < high), (high + 1e-3, False)):
        if inside:
            assert sign_flip(differences - centre, seed=1).p_value > level
        elif not np.isclose(low, high):
            assert sign_flip(differences - centre, seed=1).p_value <= level


def test_all_zero_differences_have_p_one_and_a_point_for_an_interval():
    zeros = np.zeros(6)
    assert sign_flip(zeros, seed=1).p_value == 1
    assert flip_interval(zeros, 1, seed=1) == (0, 0)


def test_order_zero_is_unbounded():
    assert flip_interval(np.arange(4.0), 0, seed=1) == (-np.inf, np.inf)


def test_drawn_flips_agree_with_all_of_them():
    differences = np.random.default_rng(5).normal(0.4, 1.0, 16)
    exact = sign_flip(differences, seed=1)
    drawn = sign_flip(np.append(differences, 0.0), seed=1)  # a zero changes nothing but the method
    assert (exact.method, drawn.method) == ("exact", "19999 draws")
    assert drawn.p_value == pytest.approx(exact.p_value, abs=4 * np.sqrt(exact.p_value / 19_999))


def test_drawn_subsets_give_nearly_the_exact_interval():
    differences = np.random.default_rng(6).normal(0.0, 1.0, 17)
    low, high = flip_interval(differences, 500, seed=1)
    means = np.array([0.0])
    sizes = np.array([0.0])
    for value in differences:
        means, sizes = np.append(means, means + value), np.append(sizes, sizes + 1)
    every = np.sort(means[1:] / sizes[1:])
    order = int(0.05 * 2**17 / 2)
    assert low == pytest.approx(every[order - 1], abs=0.03)
    assert high == pytest.approx(every[-order], abs=0.03)


def test_several_sets_at_once_are_each_as_alone():
    table = np.random.default_rng(7).normal(size=(3, 18))
    assert [one.p_value for one in sign_flips(table, seed=3)] == [
        sign_flip(row, seed=3).p_value for row in table
    ]


@pytest.mark.parametrize("rounds", [15, 16, 17, 30])
def test_up_to_sixteen_rounds_the_cells_are_counted_beyond_there_are_twenty_thousand(rounds):
    assert step_cells(rounds) == (2**rounds if rounds <= 16 else 20_000)


def test_sixteen_differences_are_the_last_whose_subsets_are_all_taken():
    values = np.random.default_rng(16).normal(size=16)
    members = (np.arange(1, 2**16)[:, None] >> np.arange(16)) & 1
    means = np.sort((members @ values) / members.sum(axis=1))
    assert flip_interval(values, 100, seed=1) == pytest.approx((means[99], means[-100]), rel=1e-12)
