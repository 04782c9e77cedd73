"""Looks: what is a look, error spent, whole steps of two elements, order statistics only."""

import numpy as np
import pytest

from service.statistics.bell_reference import MemoryStore, bell_draws, bell_reference
from service.statistics.looks import Boundary, Plan, whole

EVERY = Plan(6, 0.05, True)
AT_END = Plan(6, 0.05, False)


def test_looks_begin_at_three_rounds_and_four_degrees_of_freedom():
    assert [r for r in range(1, 7) if EVERY.is_look(3, r)] == [3, 4, 5, 6]
    assert [r for r in range(1, 7) if EVERY.is_look(2, r)] == [5, 6]
    assert [r for r in range(1, 9) if AT_END.is_look(3, r)] == [6, 7, 8]


def test_error_spent_grows_to_all_of_alpha_and_no_further():
    spent = [EVERY.spent(r, elements=3) for r in range(1, 400)]
    assert spent[5] == pytest.approx(0.04)
    assert np.all(np.diff(spent) > 0)
    assert spent[-1] < 0.05


def test_the_planned_end_spends_alpha_at_once():
    assert [AT_END.spent(r, elements=3) for r in (5, 6)] == [0.0, 0.05]
    assert AT_END.spent(12, elements=3) == pytest.approx(0.05 * 0.9)
    assert AT_END.spent(12, elements=2) == pytest.approx(0.05 * 1.1)
    assert AT_END.counted(6, elements=3) == pytest.approx(0.04)


def test_two_elements_step_by_one_one_two_four():
    looks = bell_reference(2, 9, EVERY, store=MemoryStore()).looks
    assert [look.order for look in looks] == [0, 1, 1, 2, 4]
    assert looks[1].level == 2 / 64


def test_the_boundary_takes_order_statistics():
    boundary = Boundary(10)
    critical, level = boundary.look(np.arange(10.0), spent=0.2, counted=0.2)
    assert (critical, level) == (7.0, 0.2)
    assert boundary.crossed.tolist() == [False] * 8 + [True] * 2
    critical, level = boundary.look(np.arange(10.0)[::-1].copy(), spent=0.3, counted=0.3)
    assert (critical, level) == (8.0, 0.1)


def test_a_whole_number_a_hair_below_counts_as_whole():
    assert whole(0.29 * 100) == 29
    assert whole(28.9) == 28


def test_a_longer_trial_repeats_the_looks_of_its_first_rounds():
    short = bell_reference(4, 5, EVERY, store=MemoryStore(), draws=4_000).looks
    assert bell_reference(4, 8, EVERY, store=MemoryStore(), draws=4_000).looks[: len(short)] == short


def test_blocks_of_rounds_change_nothing(monkeypatch):
    whole_walk = bell_reference(3, 9, EVERY, store=MemoryStore(), draws=2_000)
    monkeypatch.setattr("service.statistics.bell_reference._BLOCK", 4)
    monkeypatch.setattr("service.statistics.bell_reference._READINGS", 900)
    in_blocks = bell_reference(3, 9, EVERY, store=MemoryStore(), draws=2_000)
    assert in_blocks.looks == whole_walk.looks
    assert np.array_equal(in_blocks.maxima, whole_walk.maxima)


def test_numbers_of_draws():
    assert [bell_draws(*size) for size in ((8, 35), (8, 36), (40, 12), (40, 13))] == [
        100_000,
        20_000,
        20_000,
        4_000,
    ]


def test_the_store_keeps_what_was_made_and_drops_the_oldest():
    made = []
    store = MemoryStore(capacity=2)
    for name in ("a", "b", "a", "c", "a"):
        store.fetch(name, lambda name=name: made.append(name) or {})
    assert made == ["a", "b", "c", "a"]


def test_only_the_planned_end_of_three_or_more_is_counted_below_what_it_spends():
    end, every = Plan(6, 0.05, False), Plan(6, 0.05, True)
    assert end.counted(6, elements=3) == pytest.approx(0.04)
    assert end.counted(6, elements=2) == end.spent(6, elements=2) == 0.05
    assert end.counted(8, elements=3) == end.spent(8, elements=3)
    assert end.counted(8, elements=2) == end.spent(8, elements=2)
    assert every.counted(6, elements=3) == every.spent(6, elements=3)
