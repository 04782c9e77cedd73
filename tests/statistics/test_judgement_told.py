"""What a judgement tells beside its outcome: references gone through, critical values, noise, design."""

import numpy as np
import pytest

from service.statistics.leader import trial_outcome
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, WITHIN_NOISE, Criticals, KnownNoise
from tests.statistics.test_judgement import NAN, ahead, judged, noise


@pytest.mark.parametrize(
    ("elements", "rounds", "all_of_them", "number"), [(3, 4, True, 6**4), (4, 6, False, 19_999)]
)
def test_it_is_told_whether_all_arrangements_were_gone_through(elements, rounds, all_of_them, number):
    found = judged(ahead(elements, rounds))
    assert (found.enumerated, found.permutations, found.bell_draws) == (all_of_them, number, 100_000)


def test_the_residual_variance_is_that_of_the_two_way_table():
    scores = noise(3, 5)
    rounds, elements = scores.mean(axis=0), scores.mean(axis=1, keepdims=True)
    left = scores - rounds - elements + scores.mean()
    found = judged(scores)
    assert (found.residual_df, found.residual_variance) == (8, pytest.approx((left**2).sum() / 8))


def test_critical_values_are_those_of_the_pairs_with_most_runs():
    scores = ahead(rounds=8)
    whole = judged(scores).critical
    scores[3, 6:] = NAN
    found = judged(scores).critical
    assert (found.bell_shaped, found.leader) == (whole.bell_shaped, whole.leader)


def test_a_look_by_a_known_noise_has_the_leaders_critical_value_alone():
    found = judged(np.array([[8.0], [4.0], [4.2]]), known=KnownNoise(0.3, 12))
    assert (found.this_look, found.schedule) == (found.schedule[0], (found.this_look,))
    assert found.critical == Criticals(None, None, found.this_look.leader_critical)


def test_the_design_is_that_of_the_elements_judged():
    scores = ahead()
    scores[3, 2:] = NAN
    assert judged(scores).design == "rounds"
    scores[2, 5] = NAN
    assert judged(scores).design == "incomplete rounds"


def test_all_that_are_within_noise_lead():
    found = judged(np.full((3, 6), 4.0), floor=0.2**2 / 6)
    assert found.leading == (0, 1, 2)


def test_those_that_lead_are_told_in_the_order_of_elements():
    scores = noise(4, 4)
    scores[2] += 0.1
    found = judged(scores)
    assert (found.leader, found.leading) == (2, (0, 1, 2, 3))


def test_of_two_that_only_rounding_parts_the_earlier_leads():
    scores = np.vstack([noise(1, 6), noise(1, 6) + 1e-12, noise(1, 6) - 3])
    assert judged(scores).leader == 0


def test_ahead_of_one_and_within_noise_of_another_is_within_noise():
    scores = noise(3, 6, sd=0.03) + np.array([[5.0], [5.0], [1.0]])
    found = judged(scores)
    assert {one.outcome for one in found.against} == {WITHIN_NOISE, CLEAR_WINNER}
    assert (found.outcome, found.winner) == (WITHIN_NOISE, None)


def test_what_a_pair_comes_to_now_is_what_its_own_interval_says():
    found = judged(ahead(4, 4, by=0.5))
    assert CLEAR_WINNER in {one.outcome for one in found.against}
    assert {(pair.low > 0 or pair.high < 0, pair.present_outcome) for pair in found.pairs} == {
        (False, NEEDS_MORE_RUNS),
        (True, CLEAR_WINNER),
    }


def test_a_leader_without_others_wins_nothing():
    assert trial_outcome([]) == NEEDS_MORE_RUNS


def test_a_known_noise_below_the_rounding_of_the_meter_counts_as_that():
    found = judged(np.array([[8.0], [4.0], [4.2]]), known=KnownNoise(0.3, 12), floor=4.0)
    assert found.pairs[0].standard_error == pytest.approx(2.0)
