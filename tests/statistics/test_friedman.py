"""Friedman's test against scipy, by its definition, and at its edges."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import friedmanchisquare, rankdata

from service.statistics.friedman import Friedman, friedman
from service.statistics.random_streams import Purpose
from service.statistics.round_permutations import drawn_share
from service.statistics.sign_test import sign_test

QUICK = settings(max_examples=40, deadline=None, database=None, derandomize=True)
COARSE = arrays(np.int64, st.tuples(st.integers(3, 5), st.integers(2, 6)), elements=st.integers(0, 4))


def something_varies(scores) -> bool:
    return bool((scores != scores[:1]).any())


@QUICK
@given(COARSE)
def test_the_statistic_is_scipys_with_ties_too(scores):
    assume(something_varies(scores))
    result = friedman(scores, seed=1)
    assert result.statistic == pytest.approx(friedmanchisquare(*scores).statistic, rel=1e-9, abs=1e-9)


@QUICK
@given(COARSE)
def test_kendalls_w_is_the_mean_rank_correlation_of_the_rounds(scores):
    """W = (1 + (R - 1) mean Spearman correlation) / R where no round has ties."""
    ranks = np.argsort(np.argsort(scores + np.linspace(0, 0.5, scores.shape[0])[:, None], axis=0), axis=0)
    rounds = scores.shape[1]
    correlations = np.corrcoef(ranks.T)[np.triu_indices(rounds, 1)]
    expected = (1 + (rounds - 1) * correlations.mean()) / rounds
    assert friedman(ranks, seed=1).kendall_w == pytest.approx(expected, rel=1e-9, abs=1e-9)


@QUICK
@given(COARSE, st.integers(-20, 20))
def test_round_effects_and_decimals_change_nothing(scores, shift):
    moved = (scores + shift + np.arange(scores.shape[1])) / 10
    assert friedman(moved, seed=1) == friedman(scores, seed=1)


@QUICK
@given(st.lists(st.sampled_from([-1, 1]), min_size=2, max_size=14))
def test_with_two_elements_it_is_the_sign_test(signs):
    result = friedman([signs, [0] * len(signs)], seed=1)
    assert result.method == "exact"
    assert result.p_value == pytest.approx(sign_test(signs).p_value, rel=1e-12)


def test_the_same_order_in_every_round_is_full_agreement():
    scores = np.arange(4)[:, None] + np.array([0.0, 10.0, 20.0])
    assert friedman(scores, seed=1) == Friedman(9.0, 24 / 24**3, "exact", 1.0)


def test_beyond_twenty_thousand_arrangements_they_are_drawn():
    scores = np.random.Generator(np.random.Philox(3)).normal(size=(8, 6))
    result = friedman(scores, seed=1)
    assert result.method == "19999 draws"
    assert result == friedman(scores, seed=1)
    other = friedman(scores, seed=2)
    assert other.p_value != result.p_value
    assert other.p_value == pytest.approx(result.p_value, abs=0.03)


def test_its_draws_are_those_kept_for_shuffles():
    scores = np.random.Generator(np.random.Philox(3)).normal(size=(8, 6))
    ranks = (2 * rankdata(scores, axis=0)).astype(np.int64)
    shares = {purpose: drawn_share(ranks, seed=1, purpose=purpose) for purpose in Purpose}
    assert friedman(scores, seed=1).p_value == shares[Purpose.SHUFFLES]
    assert shares[Purpose.SHUFFLES] != shares[Purpose.RECEPTION]


def test_p_of_many_rounds_comes_near_the_chi_square_tail():
    ranks = rankdata(np.random.Generator(np.random.Philox(4)).normal(size=(4, 60)), axis=0)
    result = friedman(ranks, seed=1)
    assert result.p_value == pytest.approx(friedmanchisquare(*ranks).pvalue, abs=0.02)


def test_nothing_but_ties_says_nothing():
    assert friedman([[0.3] * 4, [0.1 + 0.2] * 4, [0.3] * 4], seed=1) == Friedman(None, 1.0, "exact", None)


@pytest.mark.parametrize("shape", [(1, 5), (4, 1), (4, 0), (0, 0)])
def test_fewer_than_two_elements_or_rounds_give_nothing(shape):
    assert friedman(np.zeros(shape), seed=1) == Friedman(None, None, None, None)


@pytest.mark.parametrize("wrong", [[1.0, 2.0], [[1.0, np.nan], [2.0, 3.0]]])
def test_other_input_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|finite"):
        friedman(wrong, seed=1)
