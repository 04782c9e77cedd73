"""Holm's steps, as he wrote them and as another library has them."""

import numpy as np
import pytest

from service.statistics.holm import holding


def holding_of(p_values, *, open_steps=None, alpha=0.05):
    asked = dict(enumerate(p_values))
    steps = open_steps or len(p_values)
    return holding(asked, lambda place, step: asked[place] <= step, alpha=alpha, open_steps=steps)


@pytest.mark.parametrize("seed", range(8))
def test_the_same_hold_as_by_another_library(seed):
    # the room's tests also run with numpy and scipy alone
    multipletests = pytest.importorskip("statsmodels.stats.multitest").multipletests
    p_values = np.random.default_rng(seed).uniform(0, 0.1, 6) ** 1.5
    assert holding_of(p_values) == set(np.flatnonzero(multipletests(p_values, 0.05, "holm")[0]))


def test_after_the_first_that_does_not_hold_none_does():
    assert holding_of([0.01, 0.03, 0.04]) == {0}
    assert holding_of([0.02, 0.001, 0.01]) == {0, 1, 2}


def test_those_not_asked_now_still_share_the_error():
    assert holding_of([0.02], open_steps=1) == {0}
    assert holding_of([0.02], open_steps=3) == set()


def test_ties_are_taken_by_place():
    asked = []
    holding({2: 0.01, 0: 0.01}, lambda place, _step: asked.append(place) or True, alpha=0.05, open_steps=2)
    assert asked == [0, 2]


def test_none_holds_after_one_that_does_not_though_it_would():
    """Limits and p need not agree to the last step, as with looks at which fewer steps are allowed."""
    assert holding({0: 0.01, 1: 0.02}, lambda place, _step: place == 1, alpha=0.05, open_steps=2) == set()
