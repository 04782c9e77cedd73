"""The order of the runs: every element once a round, places balanced, neighbours balanced, repeatable."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.trial.run_order import run_order, williams_squares

SIZES = st.integers(2, 9)
ROUNDS = st.integers(1, 20)
SEEDS = st.integers(0, 2**53 - 1)


def places(order):
    """How often each element stands in each place: (elements, places)."""
    elements = order.shape[1]
    return np.array([(order == element).sum(axis=0) for element in range(elements)])


def neighbours(order):
    """How often each element follows each other within a round: (before, after)."""
    elements = order.shape[1]
    counts = np.zeros((elements, elements), dtype=int)
    for before, after in zip(order[:, :-1].ravel(), order[:, 1:].ravel(), strict=True):
        counts[before, after] += 1
    return counts


@settings(deadline=None, max_examples=60)
@given(SIZES, ROUNDS, SEEDS)
def test_each_element_is_run_once_in_each_round(elements, rounds, seed):
    order = run_order(elements, rounds, seed)
    assert order.shape == (rounds, elements)
    assert (np.sort(order, axis=1) == np.arange(elements)).all()


@settings(deadline=None, max_examples=60)
@given(SIZES, ROUNDS, SEEDS)
def test_places_are_balanced_within_one_after_any_number_of_rounds(elements, rounds, seed):
    order = run_order(elements, rounds, seed)
    for done in range(1, rounds + 1):
        counts = places(order[:done])
        assert counts.max() - counts.min() <= 1


@settings(deadline=None, max_examples=60)
@given(SIZES, st.integers(1, 3), SEEDS)
def test_in_whole_squares_places_are_equal_and_each_follows_each_other_equally_often(elements, sets, seed):
    rows = elements if elements % 2 == 0 else 2 * elements
    order = run_order(elements, sets * rows, seed)
    assert (places(order) == sets * rows // elements).all()
    apart = neighbours(order)[~np.eye(elements, dtype=bool)]
    assert (apart == sets * (1 if elements % 2 == 0 else 2)).all()


@settings(deadline=None, max_examples=60)
@given(SIZES, ROUNDS, SEEDS)
def test_the_same_seed_gives_the_same_order(elements, rounds, seed):
    assert (run_order(elements, rounds, seed) == run_order(elements, rounds, seed)).all()


def test_another_seed_gives_another_order():
    orders = {run_order(6, 5, seed).tobytes() for seed in range(200)}
    assert len(orders) == 200


def test_each_element_is_as_likely_in_each_place():
    """1 200 seeds, six elements: 200 expected in each place; 99.99 % of chi-square on 25 degrees is 65.3."""
    first = np.array([run_order(6, 5, seed)[0] for seed in range(1200)])
    counts = places(first)
    assert ((counts - 200) ** 2 / 200).sum() < 65.3


def test_two_rounds_of_an_even_number_are_a_round_and_its_reverse():
    """No other two rounds of a square give all elements the same mean place."""
    first, second = run_order(6, 2, seed=4)
    assert (second == first[::-1]).all()


@pytest.mark.parametrize("elements", [3, 4, 5, 6, 8])
def test_none_comes_last_and_then_first_where_that_can_be(elements):
    for seed in range(20):
        order = run_order(elements, elements, seed)
        assert (order[1:, 0] != order[:-1, -1]).all()


def test_the_square_of_four_is_the_published_one():
    """Williams (1949), from memory: 0 1 3 2 and its cyclic shifts."""
    assert williams_squares(4).tolist() == [[[0, 1, 3, 2], [1, 2, 0, 3], [2, 3, 1, 0], [3, 0, 2, 1]]]
    assert williams_squares(1).tolist() == [[[0]]]


@pytest.mark.parametrize(
    ("elements", "rounds"),
    [(1, 3), (2, 5), (64, 3)],
)
def test_the_smallest_and_the_largest_trials_have_an_order(elements, rounds):
    order = run_order(elements, rounds, seed=1)
    assert (np.sort(order, axis=1) == np.arange(elements)).all()


def test_the_order_of_a_seed_never_changes():
    assert run_order(4, 3, seed=1).tolist() == FROZEN


FROZEN = [[1, 3, 2, 0], [2, 1, 0, 3], [0, 2, 3, 1]]
