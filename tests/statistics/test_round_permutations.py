"""Permutations within rounds: counted and drawn as written down, and the same for every relabelling."""

from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from service.statistics.random_streams import Purpose
from service.statistics.round_permutations import can_be_enumerated, drawn_share, enumerated_share

QUICK = settings(max_examples=40, deadline=None, database=None, derandomize=True)
TABLES = arrays(np.int64, (3, 3), elements=st.integers(0, 5))


def squares(columns) -> int:
    return int((np.sum(columns, axis=0) ** 2).sum())


def counted(table) -> float:
    observed = squares(list(table.T))
    all_of_them = [squares(columns) for columns in product(*(permutations(column) for column in table.T))]
    return float(np.mean(np.array(all_of_them) >= observed))


def plainly_drawn(table, seed: int, purpose: int) -> float:
    """The same draws, one arrangement at a time, from numpy's own generator words."""
    elements, rounds = table.shape
    words = [
        np.random.Philox(key=np.array([seed, (purpose << 48) + (elements << 32) + r], dtype=np.uint64))
        .random_raw(19_999 * elements)
        .reshape(19_999, elements)
        .tolist()
        for r in range(1, rounds + 1)
    ]
    observed, reached = squares(list(table.T)), 0
    for draw in range(19_999):
        dealt = [
            [column[place] for place in sorted(range(elements), key=words[r][draw].__getitem__)]
            for r, column in enumerate(table.T.tolist())
        ]
        reached += sum(sum(got) ** 2 for got in zip(*dealt, strict=True)) >= observed
    return (reached + 1) / 20_000


@QUICK
@given(TABLES)
def test_the_enumerated_share_is_counted_over_all_arrangements(table):
    assert enumerated_share(table) == counted(table)


@QUICK
@given(TABLES, st.permutations(range(3)))
def test_calling_the_elements_otherwise_changes_no_share(table, order):
    assert enumerated_share(table[list(order)]) == enumerated_share(table)


@pytest.mark.parametrize("purpose", [Purpose.SHUFFLES, Purpose.RECEPTION])
def test_the_drawn_share_comes_from_the_streams_as_described(purpose):
    table = np.array([[8, 8, 6, 8], [6, 5, 8, 5], [3, 5, 2, 2], [3, 2, 4, 5]])
    assert drawn_share(table, seed=5, purpose=purpose) == plainly_drawn(table, 5, int(purpose))


def test_drawing_comes_near_to_counting():
    table = np.array([[6, 6, 4, 6, 2], [4, 3, 6, 4, 4], [2, 3, 2, 2, 6]])
    exact = enumerated_share(table)
    error = 4 * np.sqrt(exact * (1 - exact) / 19_999)
    assert drawn_share(table, seed=1, purpose=Purpose.SHUFFLES) == pytest.approx(exact, abs=error)


def test_a_table_that_no_arrangement_can_change_has_a_share_of_one():
    table = np.full((9, 4), 10)
    assert drawn_share(table, seed=1, purpose=Purpose.SHUFFLES) == 1.0


def test_the_observed_arrangement_is_counted_among_the_drawn_ones():
    table = np.arange(10)[:, None] * np.ones((1, 12), dtype=np.int64)
    assert drawn_share(table, seed=1, purpose=Purpose.SHUFFLES) == 1 / 20_000


@pytest.mark.parametrize(
    ("elements", "rounds", "expected"),
    [
        (2, 14, True),
        (2, 15, False),
        (3, 5, True),
        (3, 6, False),
        (4, 3, True),
        (7, 1, True),
        (8, 1, False),
        (64, 400, False),
    ],
)
def test_up_to_twenty_thousand_arrangements_are_enumerated(elements, rounds, expected):
    assert can_be_enumerated(elements, rounds) is expected
