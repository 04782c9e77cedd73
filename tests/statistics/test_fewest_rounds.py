"""The first round at which the rule has finite ends: by plan and number of elements."""

import pytest

from service.statistics.fewest_rounds import fewest_rounds
from service.statistics.looks import Plan
from service.statistics.pair_look import Setting
from tests.shared_references import STORE


def fewest(elements, plan, *, longest=1):
    setting = Setting(plan=plan, floor=0.0, tol=1e-9, seed=1, store=STORE)
    return fewest_rounds(elements, setting, longest=longest)


@pytest.mark.parametrize(("elements", "rounds"), [(1, None), (2, 6), (3, 3), (4, 3), (8, 3)])
def test_looking_after_every_round_of_a_plan_of_six(elements, rounds):
    assert fewest(elements, Plan(6, 0.05, True)) == rounds


@pytest.mark.parametrize("elements", [2, 3])
def test_a_look_at_the_planned_end_comes_with_the_plan(elements):
    assert fewest(elements, Plan(20, 0.05, False)) == 20


@pytest.mark.parametrize("elements", [2, 3])
def test_a_plan_beyond_sixty_rounds_has_no_answer(elements):
    assert fewest(elements, Plan(70, 0.05, False)) is None


def test_three_elements_need_a_fourth_round_where_the_first_look_may_spend_too_little():
    """At 0.99 and twelve rounds planned the first look may spend 0.0005: 216 shuffles cannot tell that."""
    assert fewest(3, Plan(12, 0.01, True)) > 3
