"""The decision rule as a whole: who leads, what stands, what is left out, and what symmetry demands."""

import numpy as np
import pytest

from service.statistics.judgement import judge
from service.statistics.results import (
    CLEAR_WINNER,
    NEEDS_MORE_RUNS,
    WITHIN_NOISE,
    KnownNoise,
    Repeats,
    Rule,
)
from tests.shared_references import STORE

NAN = np.nan


def judged(scores, *, competing=None, known=None, repeats=None, **changes):
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 0.5, "floor": 0.0, "seed": 1}
    able = np.ones(len(scores), dtype=bool) if competing is None else np.array(competing)
    return judge(
        np.asarray(scores, dtype=float),
        Rule(**fixed | changes),
        competing=able,
        store=STORE,
        known=known,
        repeats=repeats,
    )


def noise(elements, rounds, sd=0.2, seed=1):
    return np.random.default_rng(seed).normal(scale=sd, size=(elements, rounds))


def ahead(elements=4, rounds=6, by=2.0, seed=1):
    scores = noise(elements, rounds, seed=seed)
    scores[1] += by
    return scores


def test_a_leader_well_ahead_is_the_clear_winner():
    found = judged(ahead())
    assert (found.outcome, found.winner, found.leader) == (CLEAR_WINNER, 1, 1)
    assert found.leading == (1,)
    assert {one.outcome for one in found.against} == {CLEAR_WINNER}
    assert found.more_rounds == 0


def test_the_leaders_interval_is_narrower_than_the_pair_tables():
    found = judged(ahead())
    against = next(one for one in found.against if one.element == 0)
    pair = found.pairs[0]
    assert against.difference == -pair.difference
    assert -pair.high < against.low < against.high < -pair.low


def test_a_control_that_does_not_compete_cannot_win():
    found = judged(ahead(), competing=[True, False, True, True])
    assert found.leader != 1
    assert 1 not in [one.element for one in found.against]
    assert found.pairs[0].outcome == CLEAR_WINNER


def test_ties_in_the_best_score_give_the_earlier_element_and_no_winner():
    scores = np.vstack([noise(1, 6), noise(1, 6), noise(1, 6) - 3]) + np.arange(6)
    found = judged(scores)
    assert found.leader == 0
    assert found.outcome != CLEAR_WINNER
    assert found.against[0].difference == 0.0


def test_a_decision_stands_when_later_rounds_blur_it():
    scores = ahead(by=1.0, rounds=9)
    scores[1, 6:] -= 3.5
    found = judged(scores)
    assert (found.outcome, found.winner) == (CLEAR_WINNER, 1)
    assert found.decided_at <= 6
    assert (found.pairs[0].difference > 0, found.pairs[0].winner) == (True, 1)  # behind by now
    assert found.present_outcome == NEEDS_MORE_RUNS


def test_the_latest_look_that_decided_counts():
    """Far ahead at first, level in the end: settled as a winner, then as too small to matter."""
    scores = noise(2, 40, sd=0.05)
    scores[0, :8] += 1.0
    scores[0, 8:] -= 0.2
    found = judged(scores, margin=0.6)
    early = judged(scores[:, :8], margin=0.6)
    assert early.outcome == CLEAR_WINNER
    assert (found.outcome, found.winner, found.decided_at) == (WITHIN_NOISE, None, 40)


def test_planned_end_says_nothing_before_the_plan():
    before = judged(ahead(rounds=5), every_round=False)
    assert before.outcome == NEEDS_MORE_RUNS
    assert before.pairs[0].low is None
    assert before.pairs[0].adjusted_p is not None
    assert before.fewest_rounds == 6
    assert judged(ahead(), every_round=False).outcome == CLEAR_WINNER


def test_an_element_with_two_runs_is_left_out_and_named():
    scores = ahead()
    scores[3, 2:] = NAN
    found = judged(scores)
    assert found.judged.tolist() == [True, True, True, False]
    assert (found.outcome, found.winner) == (CLEAR_WINNER, 1)
    untold = [pair for pair in found.pairs if 3 in (pair.first, pair.second)]
    assert {pair.outcome for pair in untold} == {NEEDS_MORE_RUNS}
    assert {pair.low for pair in untold} == {None}


def test_two_left_in_the_fit_are_judged_as_two_elements():
    scores = ahead(elements=3, rounds=7)
    scores[2, 2:] = NAN
    alone = judged(scores[:2])
    found = judged(scores)
    assert found.pairs[0].low == alone.pairs[0].low
    assert found.pairs[0].adjusted_p == alone.pairs[0].p_value
    assert (found.winner, found.fewest_rounds) == (1, 3)


def test_a_round_sat_out_is_no_look_for_that_pair_and_its_decision_stands():
    scores = ahead(rounds=8)
    scores[3, 6:] = NAN
    found = judged(scores)
    assert found.design == "incomplete rounds"
    by_pair = {(pair.first, pair.second): pair for pair in found.pairs}
    assert by_pair[1, 3].decided_at == 6
    assert by_pair[0, 1].decided_at == 8
    assert {one.outcome for one in found.against} == {CLEAR_WINNER}
    assert found.outcome == CLEAR_WINNER


def test_a_round_without_the_leader_is_no_look_at_all():
    scores = ahead(rounds=7)
    scores[1, 6] = NAN
    found = judged(scores)
    assert (found.outcome, found.decided_at, found.present_outcome) == (CLEAR_WINNER, 6, NEEDS_MORE_RUNS)


def test_one_element_has_nothing_to_compare_with():
    found = judged(noise(1, 4))
    assert (found.pairs, found.against, found.outcome) == ((), (), NEEDS_MORE_RUNS)
    assert (found.fewest_rounds, found.more_rounds) == (None, None)


def test_no_run_at_all_still_gives_a_judgement():
    found = judged(np.full((3, 2), NAN))
    assert (found.leader, found.outcome, found.more_rounds) == (None, NEEDS_MORE_RUNS, None)
    assert found.pairs[0].difference is None


@pytest.mark.parametrize(("elements", "rounds"), [(2, 1), (2, 2), (5, 1), (5, 2)])
def test_one_or_two_rounds_give_no_interval(elements, rounds):
    found = judged(noise(elements, rounds))
    assert found.outcome == NEEDS_MORE_RUNS
    assert all(pair.low is None and pair.high is None for pair in found.pairs)
    assert found.fewest_rounds == (6 if elements == 2 else 3)


def test_all_readings_equal_are_judged_by_the_resolution_alone():
    equal = np.full((3, 6), 4.0)
    fine = judged(equal, floor=0.2**2 / 6)
    coarse = judged(equal, floor=1.0)
    assert (fine.outcome, coarse.outcome) == (WITHIN_NOISE, NEEDS_MORE_RUNS)
    assert fine.pairs[0].high == pytest.approx(fine.critical.bell_shaped * 0.2 / np.sqrt(6))


def test_a_difference_without_any_noise_is_not_called():
    found = judged(np.array([[1.0] * 6, [2.0] * 6, [5.0] * 6]))
    assert found.outcome == NEEDS_MORE_RUNS
    assert found.pairs[0].low is None


def test_two_quiet_elements_reach_at_least_two_floors():
    scores = np.array([[3.0] * 7, [2.0] * 7]) + np.arange(7)
    found = judged(scores, floor=0.04)
    assert (found.pairs[0].low, found.pairs[0].high) == (pytest.approx(0.6), pytest.approx(1.4))


def test_known_noise_settles_one_round_and_halves_what_later_looks_may_spend():
    scores = np.array([[8.0], [4.0], [4.2]])
    found = judged(scores, known=KnownNoise(0.3, 12))
    assert (found.outcome, found.winner, found.design) == (CLEAR_WINNER, 0, "one round, known noise")
    later = judged(ahead(), known=KnownNoise(0.3, 12))
    assert later.this_look.spent == pytest.approx(0.5 * judged(ahead()).this_look.spent)


def test_known_noise_of_too_few_repeats_settles_nothing():
    found = judged(np.array([[8.0], [4.0], [4.2]]), known=KnownNoise(0.3, 8))
    assert found.outcome == NEEDS_MORE_RUNS
    assert found.pairs[0].low is None


def test_repeated_mountings_in_one_round_tell_the_noise():
    rng = np.random.default_rng(4)
    element = np.repeat(np.arange(3), 4)
    score = np.array([9.0, 4.0, 4.0])[element] + rng.normal(scale=0.2, size=12)
    repeats = Repeats(element, np.zeros(12, dtype=int), score)
    means = np.array([[score[element == k].mean()] for k in range(3)])
    found = judged(means, repeats=repeats)
    assert (found.outcome, found.winner) == (CLEAR_WINNER, 0)
    assert judged(means).outcome == NEEDS_MORE_RUNS


def test_the_mirror_image_of_two_elements_is_the_mirror_image_of_the_answer():
    scores = ahead(elements=2, rounds=8)
    one, other = judged(scores).pairs[0], judged(scores[::-1]).pairs[0]
    assert (one.low, one.high, one.p_value) == (-other.high, -other.low, other.p_value)
    assert (one.winner, other.winner) == (1, 0)


def test_a_constant_added_to_a_round_changes_nothing():
    scores = ahead()
    moved = judged(scores + np.array([0, 5, -3, 0, 2, 9.0]))
    still = judged(scores)
    assert moved.pairs[2].low == pytest.approx(still.pairs[2].low, abs=1e-12)
    assert moved.pairs[2].adjusted_p == still.pairs[2].adjusted_p


@pytest.mark.parametrize(
    ("shape", "competing"),
    [
        ((5,), [True] * 5),
        ((3, 4), [True] * 2),
        ((3, 4), [[True] * 4] * 3),
        ((3, 0), [True] * 3),
        ((0, 4), []),
    ],
)
def test_wrong_shapes_are_refused(shape, competing):
    with pytest.raises(ValueError, match="must be"):
        judged(np.zeros(shape), competing=competing)


def test_an_element_that_stopped_before_the_others_began_has_had_no_look():
    """Three runs of the first were over before a third element made a fit of three."""
    scores = ahead(3, 6, by=3.0)
    scores[0, 3:] = NAN
    scores[2, :2] = NAN
    found = judged(scores)
    against = {one.element: one for one in found.against}
    assert against[0].low is not None
    assert against[0].outcome == NEEDS_MORE_RUNS


def test_three_runs_each_that_hardly_overlap_leave_too_few_degrees_of_freedom():
    scores = noise(3, 5)
    for element in range(3):
        scores[element, [r for r in range(5) if not element <= r < element + 3]] = NAN
    found = judged(scores)
    assert found.outcome == NEEDS_MORE_RUNS
    assert found.residual_df == 2
    assert {pair.low for pair in found.pairs} == {None}


def test_a_round_without_any_run_changes_nothing():
    scores = noise(3, 5)
    gap = np.insert(scores, 2, NAN, axis=1)
    assert [pair.difference for pair in judged(gap).pairs] == [
        pair.difference for pair in judged(scores).pairs
    ]
    assert judged(gap).more_rounds == judged(scores).more_rounds


def test_an_exactly_additive_table_has_the_smallest_p_there_is():
    scores = np.add.outer([2.9, 8.9, 2.9, 7.1], [7.8, 3.5, 3.9, 3.4])
    found = {(pair.first, pair.second): pair.adjusted_p for pair in judged(scores).pairs}
    assert found.pop((0, 2)) == 1.0  # the two that are alike
    assert set(found.values()) == {1 / 20_000}


def test_of_two_that_share_no_round_the_one_that_competes_leads():
    scores = np.array([[9.0, 9.1, 9.2, NAN, NAN, NAN], [NAN, NAN, NAN, 1.0, 1.1, 1.2]])
    found = judged(scores, competing=[False, True])
    assert (found.leader, found.outcome) == (1, NEEDS_MORE_RUNS)
    assert found.leading == (1,)
    assert judged(scores, competing=[True, False]).leader == 0


def test_who_led_at_the_look_that_decided_is_kept_beside_who_leads_now():
    scores = ahead(by=1.0, rounds=9)
    scores[1, 6:] -= 3.5
    found = judged(scores)
    assert found.decided_among == (1,)
    assert set(found.leading) > {1}
    assert judged(noise(4, 4)).decided_among == ()


def test_a_look_by_a_known_noise_is_the_first_of_the_schedule():
    known = KnownNoise(0.2, 12.0)
    found = judged(ahead(rounds=4), known=known)
    assert [look.round for look in found.schedule] == [1, 2, 3, 4]
    assert (found.schedule[0].spent, found.fewest_rounds) == (0.025, 1)
    assert [look.round for look in judged(ahead(rounds=4)).schedule] == [3, 4]
