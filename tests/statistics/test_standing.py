"""What an earlier look decided stands, as long as it was about the elements that are judged now."""

from dataclasses import replace

import numpy as np
import pytest

from service.statistics import trial_looks
from service.statistics.judgement import judge
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, Rule
from tests.shared_references import STORE

RULE = Rule(planned=6, alpha=0.05, every_round=True, margin=0.1, floor=0.0, seed=1)
STEADY = np.array(
    [
        [10.1, 10.0, 9.9, 10.1, 10.0],
        [5.0, 5.1, 5.1, 5.0, 4.9],
        [5.1, 4.9, 5.0, 5.0, 5.1],
        [9.9, 10.1, 10.0, 9.9, 10.1],
    ]
)


def judged(rounds, *, late, competing=(True, True, True, True)):
    scores = STEADY[:, :rounds].copy()
    scores[3, :late] = np.nan
    return judge(scores, RULE, competing=np.array(competing), store=STORE)


@pytest.mark.parametrize("late", [1, 2])
def test_a_winner_named_before_an_element_could_be_judged_is_not_the_winner_once_it_can(late):
    """Element 3 is as good as the winner, but comes late."""
    before = judged(late + 2, late=late)
    assert (before.outcome, before.winner, before.judged[3]) == (CLEAR_WINNER, 0, False)
    after = judged(late + 3, late=late)
    assert after.judged[3]
    assert (after.outcome, after.winner, after.decided_at) == (NEEDS_MORE_RUNS, None, None)


def test_a_control_that_comes_late_takes_no_winner_away():
    found = judged(4, late=1, competing=(True, True, True, False))
    assert found.judged[3]
    assert (found.outcome, found.winner) == (CLEAR_WINNER, 0)


def test_the_pairs_that_were_decided_stand():
    found = judged(4, late=1)
    assert [pair.outcome for pair in found.pairs if pair.second < 3].count(CLEAR_WINNER) == 2


def test_what_the_shuffled_reference_leaves_open_is_not_decided(monkeypatch):
    assert CLEAR_WINNER in [pair.outcome for pair in judged(5, late=0).pairs]
    endless = np.full(6, np.inf)
    monkeypatch.setattr(
        trial_looks, "with_shuffles", lambda look, _: replace(look, shuffled_critical=endless)
    )
    assert {pair.outcome for pair in judged(5, late=0).pairs} == {NEEDS_MORE_RUNS}
