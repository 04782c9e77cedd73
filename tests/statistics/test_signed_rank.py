"""The signed-rank test against counting all signs, against scipy, and at its edges."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import rankdata, wilcoxon

from service.statistics.signed_rank import SignedRank, rank_sum_law, signed_rank

QUICK = settings(max_examples=60, deadline=None, database=None, derandomize=True)
COARSE = st.lists(st.integers(-4, 4), min_size=1, max_size=9)


def counted(values) -> tuple[float, float, float]:
    """Sum of positive ranks, and the shares of all signs that give as much or more, as little or less."""
    values = np.asarray(values, dtype=float)
    ranks = rankdata(np.abs(values))[values != 0]
    observed = ranks[values[values != 0] > 0].sum()
    sums = [np.dot(signs, ranks) for signs in product((0, 1), repeat=ranks.size)]
    return observed, float(np.mean(np.array(sums) >= observed)), float(np.mean(np.array(sums) <= observed))


@QUICK
@given(COARSE)
def test_every_tail_is_the_share_of_all_signs(values):
    result = signed_rank(values)
    observed, greater, less = counted(values)
    assert result.statistic == observed
    assert (result.p_greater, result.p_less) == (greater, less)
    assert result.p_value == min(1.0, 2 * min(greater, less))


@QUICK
@given(st.lists(st.integers(1, 10_000), min_size=1, max_size=40, unique=True), st.integers(0, 2**40 - 1))
def test_without_ties_it_is_scipys_exact_test(magnitudes, signs):
    values = [m if signs >> place & 1 else -m for place, m in enumerate(magnitudes)]
    result = signed_rank(values)
    for name, p in (("two-sided", "p_value"), ("greater", "p_greater"), ("less", "p_less")):
        theirs = wilcoxon(values, method="exact", alternative=name).pvalue
        assert getattr(result, p) == pytest.approx(theirs, rel=1e-9)


@QUICK
@given(COARSE)
def test_turning_every_sign_exchanges_the_tails(values):
    result, turned = signed_rank(values), signed_rank([-value for value in values])
    assert (turned.p_greater, turned.p_less) == (result.p_less, result.p_greater)
    assert turned.p_value == result.p_value
    assert turned.rank_biserial == (None if result.rank_biserial is None else -result.rank_biserial)


@QUICK
@given(COARSE, st.randoms(use_true_random=False))
def test_neither_the_order_nor_the_unit_matters(values, random):
    shuffled = [value * 7 for value in values]
    random.shuffle(shuffled)
    assert signed_rank(shuffled) == signed_rank(values)


@QUICK
@given(COARSE)
def test_decimals_neither_break_nor_make_ties(values):
    tenths = [(value + 3) / 10 - 0.3 for value in values]
    assert signed_rank(tenths) == signed_rank(values)


def test_what_rounding_leaves_of_a_zero_is_a_zero():
    result = signed_rank([1e-17, -3e-16, 0.1 + 0.2 - 0.3, 1.0])
    assert (result.n, result.zeros, result.statistic) == (1, 3, 4.0)


@pytest.mark.parametrize("values", [[], [0.0], [0.0, -0.0, 1e-12]])
def test_nothing_but_zeros_leaves_one_arrangement(values):
    assert signed_rank(values) == SignedRank(
        statistic=0.0,
        p_value=1.0,
        p_greater=1.0,
        p_less=1.0,
        method="exact",
        n=0,
        zeros=len(values),
        rank_biserial=None,
    )


def test_one_difference_says_nothing():
    result = signed_rank([2.5])
    assert (result.p_value, result.p_greater, result.p_less, result.rank_biserial) == (1.0, 0.5, 1.0, 1.0)


def test_rank_biserial_runs_from_minus_one_to_one():
    assert signed_rank([-1, -2, -3]).rank_biserial == -1
    assert signed_rank([1, 2, -3]).rank_biserial == 0
    assert signed_rank([0, 1, -2]).rank_biserial == pytest.approx(-1 / 5)


def test_four_hundred_differences_are_still_counted():
    values = np.random.Generator(np.random.Philox(1)).normal(0.1, 1.0, 400)
    assert signed_rank(values).p_value == pytest.approx(wilcoxon(values, method="exact").pvalue, rel=1e-9)


def test_the_smallest_p_of_many_rounds_is_two_in_all_signs():
    assert signed_rank(np.arange(1, 201)).p_value == 2.0**-199


@pytest.mark.parametrize(
    ("ranks", "largest"), [([1, 2, 3], 6), ([2, 2, 5], 9), ([4, 1], 3), ([9], 4), ([], 0)]
)
def test_the_law_of_a_rank_sum_is_counted(ranks, largest):
    sums = [
        sum(r for r, plus in zip(ranks, signs, strict=True) if plus)
        for signs in product((0, 1), repeat=len(ranks))
    ]
    expected = np.bincount(sums, minlength=largest + 1)[: largest + 1] / len(sums)
    assert rank_sum_law(np.array(ranks, dtype=np.int64), largest).tolist() == expected.tolist()


@pytest.mark.parametrize("wrong", [[1.0, np.nan], [[1.0], [2.0]]])
def test_other_input_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|finite"):
        signed_rank(wrong)
