"""Rounds still needed: worked cases, and the fast simulation held against the plain one by its shares."""

from types import SimpleNamespace

import numpy as np
import pytest

from service.statistics.judgement import judge
from service.statistics.results import Rule
from tests.shared_references import STORE

from .plain_looks import Plan
from .plain_rounds_needed import CONTINUED, reached_by, rounds_to_decision


def rule(elements, **changes):
    settings = {"plan": Plan(6, 0.05, True), "margin": 0.5, "floor": 0.0, "seed": 1}
    nobody = {"competing": [True] * elements, "known": None, "repeats": None}
    return SimpleNamespace(**(settings | nobody | changes))


def trial(elements, rounds, ahead, *, seed=3, sd=0.4):
    scores = np.random.default_rng(seed).normal(scale=sd, size=(elements, rounds))
    scores -= scores.mean(axis=1, keepdims=True)
    scores[0] += ahead
    return scores


def test_two_elements_far_apart_need_the_sixth_round():
    found = rounds_to_decision(trial(2, 4, 50.0), rule(2))
    assert set(found["trial"]) == {2}


def test_a_smaller_difference_needs_more_rounds():
    near, far = (rounds_to_decision(trial(3, 4, ahead), rule(3))["trial"] for ahead in (0.9, 1.4))
    assert reached_by(far, 0.5) < reached_by(near, 0.5)
    assert reached_by(far, 0.5) <= reached_by(far, 0.8)


def test_the_leaders_question_is_decided_sooner_than_all_pairs_of_the_leader():
    found = rounds_to_decision(trial(4, 4, 1.2), rule(4))
    all_of_the_first = np.max([found[0, other] for other in (1, 2, 3)], axis=0)
    assert np.mean(found["trial"] < all_of_the_first) > 0.3


def test_what_a_round_has_in_common_does_not_matter_where_runs_are_missing():
    scores = trial(3, 4, 0.8)
    scores[1, 3] = np.nan
    plain = rounds_to_decision(scores, rule(3))
    moved = rounds_to_decision(scores + np.array([0.0, 3.0, 0.0, -12.0]), rule(3))
    for question, further in plain.items():
        assert reached_by(further, 0.5) == reached_by(moved[question], 0.5)


def test_one_round_gives_no_noise_to_continue_with():
    assert rounds_to_decision(trial(3, 1, 1.0), rule(3)) == {}


def test_the_share_counts_undecided_trials_as_never_decided():
    first = np.array([1.0, 2.0, np.inf, np.inf])
    assert reached_by(first, 0.5) == 2
    assert reached_by(first, 0.8) is None


@pytest.mark.parametrize(("elements", "rounds", "ahead"), [(2, 5, 0.8), (3, 4, 1.4), (4, 4, 1.2)])
def test_half_and_four_fifths_of_plain_continuations_are_decided_where_the_fast_ones_are(
    elements, rounds, ahead
):
    """Two independent simulations of 500: shares may differ by four standard errors of their difference."""
    scores = trial(elements, rounds, ahead)
    fast = judge(
        scores, Rule(6, 0.05, True, 0.5, 0.0, 1), competing=np.ones(elements, dtype=bool), store=STORE
    )
    plain = rounds_to_decision(scores, rule(elements))["trial"]
    for further, share in ((fast.more_rounds, 0.5), (fast.more_rounds_safe, 0.8)):
        error = np.sqrt(2.0 * share * (1.0 - share) / CONTINUED)
        assert np.mean(plain <= further) >= share - 4.0 * error
        assert np.mean(plain < further) <= share + 4.0 * error
