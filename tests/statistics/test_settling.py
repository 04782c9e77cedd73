"""How likely the rounds to come settle a trial under way: as the rule itself does on continued trials."""

import numpy as np
import pytest

from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, KnownNoise, Rule
from service.statistics.rounds_needed import trials_of_a_chance
from service.statistics.settling import NO_NOISE, SETTLED, TOO_FEW_RUNS, settling
from tests.shared_references import STORE


def asked(scores, *, rounds=4, margin=0.5, known=None, competing=None):
    rule = Rule(planned=6, alpha=0.05, every_round=True, margin=margin, floor=0.0, seed=1)
    counted = np.ones(len(scores), dtype=bool) if competing is None else np.array(competing)
    return settling(scores, rule, competing=counted, store=STORE, known=known, rounds=rounds)


def scores(elements, rounds, ahead, *, seed=2, sd=0.3):
    drawn = np.random.default_rng(seed).normal(scale=sd, size=(elements, rounds))
    drawn -= drawn.mean(axis=1, keepdims=True)
    drawn[0] += ahead
    return drawn


def test_chances_rise_from_round_to_round_and_with_the_lead():
    small, large = (asked(scores(4, 3, ahead)).chances for ahead in (0.4, 1.0))
    assert len(small) == 4
    assert (np.diff(small) >= 0).all()
    assert (large >= small).all()
    assert large[-1] > small[-1] + 0.2
    assert 0 < small[-1] < 1


def test_more_rounds_to_come_change_nothing_of_the_earlier_ones():
    three = scores(3, 3, 0.5)
    assert asked(three, rounds=2).chances.tolist() == asked(three, rounds=5).chances[:2].tolist()


def test_a_trial_that_is_settled_says_so_and_no_chance():
    found = asked(scores(4, 4, 3.0))
    assert (found.outcome, found.why, found.trials, len(found.chances)) == (CLEAR_WINNER, SETTLED, 0, 0)


def test_one_round_tells_no_noise_unless_that_is_known():
    one = scores(3, 1, 0.8) + np.array([[0.1], [0.0], [-0.1]])
    assert asked(one).why == NO_NOISE
    known = asked(one, known=KnownNoise(0.3, 9))
    assert (known.why, known.trials, known.outcome) == (None, 2000, NEEDS_MORE_RUNS)
    assert known.chances[-1] > 0


def test_runs_without_any_scatter_tell_no_noise():
    assert asked(np.tile([[1.0], [1.0], [1.0]], 2)).why == NO_NOISE


def test_an_element_with_too_few_runs_is_said():
    held = scores(4, 4, 0.4)
    held[3, 1:] = np.nan
    assert asked(held).why == TOO_FEW_RUNS


def test_two_elements_wait_for_the_first_round_that_can_tell():
    assert asked(scores(2, 3, 1.0)).chances[:2].tolist() == [0, 0]
    assert asked(scores(2, 3, 1.0)).chances[2] > 0.5


def test_a_wide_margin_is_settled_by_within_noise():
    near, far = (asked(scores(3, 3, 0.0), margin=margin).chances[-1] for margin in (2.0, 0.2))
    assert near > 0.9
    assert far < 0.2


@pytest.mark.parametrize(("elements", "rounds", "trials"), [(5, 100, 2000), (5, 101, 500), (8, 6, 2000)])
def test_large_trials_are_continued_fewer_times(elements, rounds, trials):
    assert trials_of_a_chance(elements, rounds) == trials


def test_controls_do_not_win():
    ahead = scores(4, 3, 0.8)
    both = asked(ahead).chances[-1]
    assert asked(ahead, competing=[False, True, True, True]).chances[-1] < both / 2


@pytest.mark.parametrize("rounds", [1, 3])
def test_the_same_question_has_the_same_answer(rounds):
    three = scores(3, 3, 0.5)
    assert asked(three, rounds=rounds).chances.tolist() == asked(three, rounds=rounds).chances.tolist()
