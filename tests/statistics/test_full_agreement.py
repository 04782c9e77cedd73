"""The chance that two honest runs agree in every cell."""

import numpy as np
import pytest

from service.statistics.full_agreement import full_agreement


def test_independent_cells_multiply():
    """A variance no more than binomial: share^cells."""
    agreeing = np.array([2, 2, 3, 1, 2])
    assert full_agreement(agreeing, 4) == pytest.approx(0.5**4)


def test_cells_that_move_together_agree_throughout_more_often():
    """A beta-binomial law with a = b = 1/2 (correlation 1/2): product of (i + 1/2) / (i + 1)."""
    agreeing = np.array([0, 0, 4, 4])  # of 8: share 1/4; variance 4
    share, alike = 0.25, (4.0 / (8 * 0.25 * 0.75) - 1.0) / 7
    expected = np.prod([(share * (1 - alike) + i * alike) / (1 - alike + i * alike) for i in range(8)])
    assert full_agreement(agreeing, 8) == pytest.approx(expected)
    assert expected > 20 * share**8


def test_it_is_near_the_truth_where_runs_share_a_shift():
    """Pairs whose chance of agreement is itself drawn from a beta law, with those in question left out."""
    rng = np.random.default_rng(1)
    agreeing = rng.binomial(6, rng.beta(2.0, 2.0, size=200_000))
    assert full_agreement(agreeing, 6) == pytest.approx((agreeing == 6).mean(), rel=0.6)


def test_pairs_in_question_do_not_vouch_for_themselves():
    assert full_agreement(np.array([1, 2, 1, 9]), 9) == full_agreement(np.array([1, 2, 1]), 9)


def test_nothing_to_learn_from():
    assert full_agreement(np.array([3, 3]), 3) is None
    assert full_agreement(np.array([], dtype=int), 3) is None


def test_no_agreement_and_a_single_cell():
    assert full_agreement(np.array([0, 0, 5]), 5) == 0.0
    assert full_agreement(np.array([0, 0]), 1) == 0.0
