"""Rounds still needed: more for smaller differences, none where nothing more can tell, as simulated."""

import numpy as np
import pytest

from service.statistics.judgement import judge
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, KnownNoise, Rule
from service.statistics.rounds_needed import rounds_needed
from service.statistics.trial_looks import TrialLooks
from service.statistics.trial_noise import trial_noise
from tests.shared_references import STORE


def judged(scores, *, margin=0.5, floor=0.0, known=None, seed=1, competing=None):
    rule = Rule(planned=6, alpha=0.05, every_round=True, margin=margin, floor=floor, seed=seed)
    able = np.array([True] * len(scores) if competing is None else competing)
    return judge(scores, rule, competing=able, store=STORE, known=known)


def trial(elements, rounds, ahead, *, seed=2, sd=0.3):
    scores = np.random.default_rng(seed).normal(scale=sd, size=(elements, rounds))
    scores -= scores.mean(axis=1, keepdims=True)
    scores[0] += ahead
    return scores


def test_a_smaller_difference_needs_more_rounds():
    needed = [judged(trial(4, 3, ahead)).more_rounds for ahead in (1.2, 0.6)]
    assert 0 < needed[0] < needed[1]


def test_four_fifths_take_no_fewer_than_half():
    found = judged(trial(4, 3, 0.7))
    assert found.more_rounds < found.more_rounds_safe


def test_a_margin_too_fine_for_the_noise_is_said():
    found = judged(trial(3, 6, 0.01, sd=1.0), margin=0.01)
    assert found.more_rounds is None
    assert found.too_fine


def test_without_a_noise_estimate_nothing_is_said():
    found = judged(trial(3, 1, 1.0))
    assert (found.more_rounds, found.more_rounds_safe, found.too_fine) == (None, None, False)


def test_known_noise_lets_one_round_be_continued():
    assert judged(trial(3, 1, 0.8), known=KnownNoise(0.3, 12)).more_rounds >= 2


def test_settled_pairs_need_none_and_others_their_own():
    scores = trial(3, 6, 3.0)
    scores[2] += 0.35
    found = judged(scores, margin=0.4)
    by_pair = {(pair.first, pair.second): pair.more_rounds for pair in found.pairs}
    assert by_pair[0, 1] == by_pair[0, 2] == 0
    assert by_pair[1, 2] > 0
    assert (found.outcome, found.more_rounds, found.more_rounds_safe) == (CLEAR_WINNER, 0, 0)


def test_a_decision_that_stands_needs_none_and_no_coarser_margin():
    scores = trial(3, 9, 1.5)
    scores[0, 6:] -= 4.5
    found = judged(scores, margin=0.01)
    assert (found.outcome, found.present_outcome) == (CLEAR_WINNER, NEEDS_MORE_RUNS)
    assert (found.more_rounds, found.too_fine) == (0, False)


def test_nothing_is_too_fine_where_only_one_can_win():
    found = judged(trial(3, 6, 0.5, sd=1.0), competing=[True, False, False])
    assert (found.more_rounds, found.too_fine) == (None, False)


def test_the_judgement_tells_what_the_simulation_finds_under_its_rule():
    scores, competing = trial(4, 3, 0.6), np.array([True, True, False, True])
    rule = Rule(planned=6, alpha=0.05, every_round=True, margin=0.5, floor=0.0, seed=1)
    looks = TrialLooks(scores, rule, store=STORE, known=None, repeats=None)
    given = {"margin": 0.5, "setting": looks.setting}
    simulated = rounds_needed(scores, trial_noise(looks), competing=competing, **given)
    found = judged(scores, competing=competing)
    assert (found.more_rounds, found.more_rounds_safe) == (simulated.half, simulated.safe)
    assert tuple(pair.more_rounds for pair in found.pairs) == simulated.pairs


def test_two_elements_of_which_one_has_only_two_runs_are_continued():
    scores = trial(2, 4, 1.0)
    scores[1, 2:] = np.nan
    assert judged(scores).more_rounds > 0


def test_an_incomplete_trial_is_continued_too():
    scores = trial(4, 4, 0.8)
    scores[3, 0] = np.nan
    assert judged(scores).more_rounds > 0


def test_half_of_trials_really_continued_are_decided_at_about_the_number_told():
    """Two elements after three rounds: continue with the truth that the estimate is centred on."""
    scores = trial(2, 3, 0.8, sd=0.4, seed=11)
    told = judged(scores).more_rounds
    rng = np.random.default_rng(12)
    sd = np.sqrt(np.var(scores[0] - scores[1], ddof=1) / 2)
    decided = 0
    for _ in range(60):
        truth = scores.mean(axis=1, keepdims=True) + rng.normal(scale=sd / np.sqrt(3), size=(2, 1))
        more = truth + rng.normal(scale=sd, size=(2, 2 * told))
        decided += judged(np.hstack([scores, more])).outcome != NEEDS_MORE_RUNS
    assert decided >= 30


@pytest.mark.parametrize("seed", [1, 2])
def test_the_seed_alone_decides_the_draws(seed):
    scores = trial(3, 4, 0.5)
    assert judged(scores, seed=seed).more_rounds == judged(scores, seed=seed).more_rounds


def test_what_a_round_has_in_common_does_not_matter_where_runs_are_missing():
    scores = trial(3, 4, 0.5)
    scores[2, 3] = np.nan
    moved = scores + np.array([0.0, 0.0, 0.0, -12.0])
    needed = [[pair.more_rounds for pair in judged(each).pairs] for each in (scores, moved)]
    assert needed[0] == needed[1]


def test_sixty_rounds_that_settled_nothing_are_not_continued():
    found = judged(trial(2, 60, 0.0, sd=1.0), margin=0.01)
    assert found.outcome == NEEDS_MORE_RUNS
    assert (found.more_rounds, found.too_fine) == (None, True)
