"""Worked cases of the whole decision rule, each one clause of it."""

import math

import numpy as np
import pytest

from .plain_judgement import judge
from .plain_outcome import outcome_of_trial

CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"
NAN = math.nan


def judged(scores, **changes):
    rule = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 0.5, "floor": 0.0, "seed": 1}
    return judge(np.array(scores, dtype=float), **(rule | changes))


def noisy(means, rounds, seed=1, sd=0.1):
    noise = np.random.default_rng(seed).normal(0.0, sd, size=(len(means), rounds))
    return np.array(means, dtype=float)[:, None] + noise


def test_two_elements_are_told_apart_at_the_sixth_round_and_not_before():
    scores = noisy([5.0, 3.0], 6)
    five, six = judged(scores[:, :5]), judged(scores)
    assert (five["outcome"], five["pairs"][0]["low"]) == (MORE, None)
    assert (six["outcome"], six["winner"], six["decided_at"]) == (CLEAR, 0, 6)
    differences = scores[0] - scores[1]
    assert six["pairs"][0]["low"] == pytest.approx(differences.min())
    assert six["pairs"][0]["high"] == pytest.approx(differences.max())
    assert six["pairs"][0]["p_value"] == six["pairs"][0]["adjusted_p"] == 2 / 64


def test_the_leader_is_told_from_each_other_while_others_are_not_told_apart():
    found = judged(noisy([1.0, 9.0, 1.1, 1.0], 6, sd=0.8))
    assert (found["outcome"], found["winner"], found["leader"]) == (CLEAR, 1, 1)
    outcomes = {(p["first"], p["second"]): p["outcome"] for p in found["pairs"]}
    assert outcomes[0, 1] == outcomes[1, 2] == outcomes[1, 3] == CLEAR
    assert outcomes[0, 2] == outcomes[0, 3] == outcomes[2, 3] == MORE
    assert all(entry["low"] > 0 for entry in found["against"])


def test_the_leaders_interval_is_narrower_than_the_pairs():
    found = judged(noisy([2.0, 1.0, 0.0], 6))
    pair = next(p for p in found["pairs"] if (p["first"], p["second"]) == (0, 1))
    ahead = next(entry for entry in found["against"] if entry["element"] == 1)
    assert pair["difference"] == ahead["difference"]
    assert pair["low"] < ahead["low"] < ahead["high"] < pair["high"]


def test_within_noise_needs_the_whole_interval_inside_the_margin():
    scores = noisy([5.0, 5.0, 5.0], 8, sd=0.02)
    assert judged(scores)["outcome"] == WITHIN
    assert judged(scores, margin=0.005)["outcome"] == MORE


def test_one_and_two_rounds_of_three_elements_need_more():
    for rounds in (1, 2):
        found = judged(noisy([9.0, 1.0, 0.0], rounds))
        assert (found["outcome"], found["leader"], found["decided_at"]) == (MORE, 0, None)
        assert all(p["low"] is None and p["adjusted_p"] is None for p in found["pairs"])
        assert all((p["p_value"] is None) == (rounds == 1) for p in found["pairs"])


def test_a_single_element_has_nothing_to_be_compared_with():
    found = judged(noisy([5.0], 6))
    assert (found["pairs"], found["outcome"], found["leader"], found["schedule"]) == ([], MORE, 0, [])


def test_elements_that_do_not_compete_cannot_lead_but_are_compared():
    scores = noisy([9.0, 5.0, 3.0], 6)
    found = judged(scores, competing=[False, True, True])
    assert (found["leader"], found["winner"]) == (1, 1)
    assert [entry["element"] for entry in found["against"]] == [2]
    assert found["pairs"][0]["outcome"] == CLEAR
    assert judged(scores, competing=[False, True, False])["outcome"] == MORE


def test_a_decision_stands_when_a_later_look_alone_would_not_reach_it():
    scores = noisy([2.0, 0.0, 0.0], 7, seed=4)
    scores[0, 6] = -14.0
    found = judged(scores)
    assert (found["outcome"], found["winner"], found["decided_at"]) == (CLEAR, 0, 6)
    pair = found["pairs"][0]
    assert (pair["outcome"], pair["winner"], pair["decided_at"]) == (CLEAR, 0, 6)
    assert pair["low"] < 0 < pair["high"]


def test_equal_elements_are_a_tie_and_never_a_clear_winner():
    """T = 0 and no spread: the interval is the single value 0, which lies inside the margin."""
    scores = np.tile([5.0, 6.0, 5.5, 5.0, 6.0, 5.0], (3, 1))
    found = judged(scores)
    assert (found["outcome"], found["leader"]) == (WITHIN, 0)
    assert all(p["difference"] == 0.0 and p["adjusted_p"] == 1.0 for p in found["pairs"])


def test_a_difference_without_any_spread_has_no_interval():
    scores = np.tile([[5.0], [5.0], [7.0]], (1, 6))
    found = judged(scores)
    assert found["outcome"] == MORE
    assert [p["low"] for p in found["pairs"]] == [0.0, None, None]


def test_rounding_of_a_quiet_meter_does_not_average_out():
    floor = 1.0 / 6.0
    scores = np.tile([[5.0], [5.0], [7.0]], (1, 6))
    found = judged(scores, floor=floor)
    assert [p["se"] for p in found["pairs"]] == pytest.approx([math.sqrt(floor)] * 3)
    louder = noisy([5.0, 5.0, 7.0], 6, sd=1.0)
    assert max(p["se"] for p in judged(louder, floor=floor)["pairs"]) < 1.0


def test_two_elements_on_a_quiet_meter_get_at_least_two_floors_to_each_side():
    found = judged(np.tile([[7.0], [5.0]], (1, 6)), floor=0.04)["pairs"][0]
    assert [found["low"], found["high"]] == pytest.approx([2.0 - 0.4, 2.0 + 0.4])


def test_planned_end_takes_no_look_before_the_plan():
    scores = noisy([9.0, 1.0, 0.0], 6)
    early = judged(scores[:, :5], every_round=False)
    assert (early["outcome"], early["pairs"][0]["low"]) == (MORE, None)
    assert early["pairs"][0]["adjusted_p"] < 0.05
    ended = judged(scores, every_round=False)
    assert (ended["outcome"], ended["decided_at"]) == (CLEAR, 6)
    assert [look["round"] for look in ended["schedule"]] == [6]


def test_a_leader_without_others_is_no_clear_winner():
    assert outcome_of_trial([]) == MORE
    assert outcome_of_trial([CLEAR, WITHIN]) == WITHIN
    assert outcome_of_trial([CLEAR, MORE]) == MORE


def test_an_element_with_two_runs_is_not_judged_and_two_are_left():
    scores = noisy([9.0, 5.0, 7.0], 6)
    scores[2, 2:] = NAN
    found = judged(scores)
    alone = judged(scores[:2])
    assert (found["outcome"], found["winner"]) == (CLEAR, 0)
    assert [found["pairs"][0][key] for key in ("low", "high")] == [
        alone["pairs"][0][key] for key in ("low", "high")
    ]
    assert [p["outcome"] for p in found["pairs"]] == [CLEAR, MORE, MORE]
    assert [entry["element"] for entry in found["against"]] == [1]


def test_an_element_that_shares_no_round_with_the_leader_is_not_judged():
    scores = noisy([9.0, 5.0, 7.0, 1.0], 10)
    scores[3, :6] = NAN
    scores[:3, 6:] = NAN
    found = judged(scores)
    assert [entry["element"] for entry in found["against"]] == [1, 2]
    assert found["pairs"][2]["difference"] is None
    assert (found["outcome"], found["decided_at"]) == (CLEAR, 6)


def test_a_missing_run_lowers_the_rounds_that_count_for_its_pairs():
    scores = noisy([9.0, 5.0, 1.0], 6)
    scores[2, 3:] = NAN
    found = judged(scores)
    complete = judged(noisy([9.0, 5.0, 1.0], 6))
    reach = [(p["high"] - p["difference"]) / p["se"] for p in found["pairs"]]
    assert reach[1] == pytest.approx(complete["schedule"][0]["critical"], rel=1e-9)
    assert reach[0] < reach[1]
    assert found["pairs"][1]["decided_at"] == 3
    assert found["pairs"][0]["decided_at"] == 6


def test_order_and_level_of_the_scores_do_not_matter():
    scores = noisy([1.0, 2.0, 0.0], 5, sd=0.3)
    shifted = judged(scores + np.array([0.0, 40.0, -3.0, 7.0, 2.0]))
    for plain, moved in zip(judged(scores)["pairs"], shifted["pairs"], strict=True):
        assert plain["difference"] == pytest.approx(moved["difference"])
        assert [plain["low"], plain["high"]] == pytest.approx([moved["low"], moved["high"]])
        assert plain["adjusted_p"] == moved["adjusted_p"]


def test_known_noise_judges_one_round_by_half_of_the_error():
    scores = [[9.0], [5.0], [1.0]]
    near, far = judged(scores, known=(1.0, 12)), judged(scores, known=(0.2, 12))
    assert (near["outcome"], far["outcome"], far["winner"]) == (MORE, CLEAR, 0)
    assert far["pairs"][0]["se"] == pytest.approx(1.25 * 0.2 * math.sqrt(2.0))
    assert judged(scores, known=(0.2, 8))["outcome"] == MORE
    looks = judged(noisy([9.0, 5.0, 1.0], 3), known=(0.2, 12))["schedule"]
    assert [look["round"] for look in looks] == [1, 2, 3]
    assert [look["spent"] for look in looks] == pytest.approx([0.025, 0.025, 0.025 * 0.8 / 4])


def test_repeated_mountings_of_one_round_tell_the_noise():
    mountings = np.array([[5], [5], [3]])
    within = np.array([[0.04], [0.04], [0.02]])
    found = judged([[9.0], [5.0], [1.0]], repeats=(mountings, within))
    assert found["outcome"] == CLEAR
    sd = math.sqrt(0.1 / 10)
    assert found["pairs"][1]["se"] == pytest.approx(1.25 * sd * math.sqrt(1 / 5 + 1 / 3))
