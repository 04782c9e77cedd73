"""Rounds until a check speaks: few where it is plain, none told where nothing can tell, as simulated."""

import numpy as np
import pytest

from service.statistics.non_inferiority import paired_checks
from service.statistics.results import NEEDS_MORE_RUNS, Rule
from service.statistics.rounds_to_check import rounds_through_reference
from service.statistics.rounds_to_check import rounds_to_check as continued
from service.statistics.welch_limits import joined_by_reference
from tests.shared_references import STORE


def rule(**changes):
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 1.0, "floor": 0.0, "seed": 1}
    return Rule(**fixed | changes)


def rounds_to_check(differences, fixed, *, candidates):
    return continued(differences, fixed, candidates=candidates, store=STORE)


def noise(rounds, sd, seed=1):
    values = np.random.default_rng(seed).normal(size=rounds)
    return sd * (values - values.mean())


def test_a_plain_case_is_settled_at_the_first_round_that_may_speak():
    found = rounds_to_check(noise(4, 0.1), rule(), candidates=1)
    assert found == (2, 2)


def test_noise_and_company_both_cost_rounds():
    halves = [rounds_to_check(noise(5, sd), rule(), candidates=1).half for sd in (0.5, 1.5)]
    assert halves[0] < halves[1]
    shared = rounds_to_check(noise(5, 0.5), rule(), candidates=4)
    assert shared.half > halves[0]
    assert shared.half <= shared.safe


def test_a_difference_at_the_margin_is_never_settled():
    assert rounds_to_check(noise(20, 0.4) - 1.0, rule(), candidates=1).safe is None
    assert rounds_to_check(np.array([0.3]), rule(), candidates=1) == (None, None)


def test_a_quiet_meter_keeps_its_rounding():
    assert rounds_to_check(noise(5, 0.01) - 0.7, rule(floor=0.04), candidates=1) == (None, None)
    assert rounds_to_check(noise(5, 0.01) - 0.7, rule(), candidates=1).half == 1


def test_half_of_checks_really_continued_are_decided_at_about_the_number_told():
    start = noise(5, 1.2, seed=4)
    told = rounds_to_check(start, rule(), candidates=1).half
    draw = np.random.default_rng(5)
    decided = 0
    for _ in range(200):
        sd = np.sqrt((start**2).sum() / draw.chisquare(4))
        more = draw.normal(sd * draw.normal() / np.sqrt(5), sd, size=told)
        (found,) = paired_checks(np.concatenate([start, more])[None], rule(), store=STORE)
        decided += found.outcome != NEEDS_MORE_RUNS
    assert decided / 200 == pytest.approx(0.5, abs=0.15)


def test_through_a_reference_more_rounds_help_only_as_far_as_the_other_day_allows():
    then = noise(5, 0.5, seed=2)
    assert rounds_through_reference(noise(3, 2.0), then, rule()) > 0
    assert rounds_through_reference(noise(3, 2.0), 4 * then, rule()) is None
    assert rounds_through_reference(noise(2, 2.0), then, rule()) is None


def test_through_a_reference_rounding_that_stays_is_not_waited_for():
    now, then = np.full(3, -0.3) + noise(3, 0.05), noise(6, 0.05, seed=3)
    floors = (0.04, 0.04)
    assert joined_by_reference(now, then, 0.05, floors=floors).low < -1.0 + 0.3
    wide, narrow = rule(margin=0.8), rule(margin=2.0)
    assert rounds_through_reference(now, then, wide, floors=(0.0, 0.0)) == 1
    assert rounds_through_reference(now, then, wide, floors=floors) is None
    assert rounds_through_reference(now, then, narrow, floors=floors) == 1
