"""What each look said: what a trial says that ends there; the nearest rival is the one that decides."""

import numpy as np
import pytest

from service.statistics.judgement import judge
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, Rule
from tests.shared_references import STORE


def judged(scores, *, competing=None, **changes):
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 0.5, "floor": 0.0, "seed": 1}
    able = np.ones(len(scores), dtype=bool) if competing is None else np.array(competing)
    return judge(scores, Rule(**fixed | changes), competing=able, store=STORE)


def noisy(elements, rounds, *, seed, ahead=0.9):
    scores = np.random.default_rng(seed).normal(scale=0.3, size=(elements, rounds))
    scores[1] += ahead
    return scores


@pytest.mark.parametrize(("elements", "rounds"), [(2, 9), (3, 7), (5, 6)])
def test_a_look_said_what_the_trial_says_when_it_ends_there(elements, rounds):
    scores = noisy(elements, rounds, seed=elements)
    taken = judged(scores).taken
    assert taken
    for look in taken:
        ended = judged(scores[:, : look.round])
        assert (look.leader, look.outcome) == (ended.leader, ended.present_outcome)
        assert look.nearest in ended.against
        assert look.nearest.low == min(rival.low for rival in ended.against)


def test_the_looks_are_those_of_the_schedule_that_were_taken():
    found = judged(noisy(4, 5, seed=3))
    assert [look.round for look in found.taken] == [3, 4, 5]
    assert [look.round for look in judged(noisy(2, 7, seed=3)).taken] == [6, 7]
    assert judged(noisy(3, 2, seed=3)).taken == ()
    assert judged(np.zeros((1, 6))).taken == ()
    assert [look.round for look in judged(noisy(3, 6, seed=3), every_round=False).taken] == [6]


def test_the_first_look_that_decides_is_among_them_with_its_outcome():
    found = judged(noisy(4, 7, seed=5, ahead=2.0))
    assert found.outcome == CLEAR_WINNER
    by_round = {look.round: look.outcome for look in found.taken}
    assert by_round[found.decided_at] == CLEAR_WINNER
    assert judged(np.zeros((3, 4)), floor=0.5).taken[0].outcome == NEEDS_MORE_RUNS


def test_controls_are_no_rivals():
    scores = noisy(4, 6, seed=6, ahead=0.2)
    scores[3] = scores[1] + 0.01
    found = judged(scores, competing=[True, True, True, False])
    assert 3 not in {look.nearest.element for look in found.taken} | {look.leader for look in found.taken}
