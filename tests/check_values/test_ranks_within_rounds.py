"""Ranks dealt out anew within each round, as the shuffles deal out residuals, against exact laws in print."""

from math import sqrt

import numpy as np
import pytest
from scipy.stats import norm, rankdata

from service.statistics.random_streams import Purpose, Stream, word_orders

DRAWS = 60_000


def rank_sums(ranks):
    """Sums over rounds (draws, K) of the ranks (K, R), each round in an order drawn by its own stream."""
    elements, rounds = ranks.shape
    totals = np.zeros((DRAWS, elements))
    for number in range(rounds):
        stream = Stream(1, Purpose.SHUFFLES, elements=elements, round_number=number + 1)
        totals += ranks[:, number][word_orders(stream.words(DRAWS, elements))]
    return totals


def share(p: float):
    """A share of the draws: within four standard errors of the exact chance."""
    return pytest.approx(p, rel=0, abs=4 * sqrt(p * (1 - p) / DRAWS))


@pytest.mark.parametrize("place", range(6))
def test_largest_difference_of_rank_sums(check_value, place):
    entry = check_value("max-rank-difference")
    elements, rounds = entry.data["k"][place], entry.data["n"][place]
    sums = rank_sums(np.tile(np.arange(1.0, elements + 1)[:, None], rounds))
    found = np.mean(np.ptp(sums, axis=1) >= entry.data["largest_rank_sum_difference"][place])
    assert found == share(entry.results["computed"]["tail_p"][place])
    if (elements, rounds) == (4, 2):
        assert entry.results["computed"]["tail_p"][place] == entry.expected("published", "p_k4_n2")


def test_pairs_of_ways_round_first_base(check_value):
    """Ties within a round stay ties; the largest difference of three sums answers for every pair."""
    entry = check_value("max-rank-rounding-first-base")
    table = np.array(entry.data["players_by_round_out_narrow_wide"])
    ranks = rankdata(table, axis=1).T
    round_out, narrow, wide = ranks.sum(axis=1)
    observed = [abs(wide - round_out), abs(wide - narrow), abs(narrow - round_out)]
    assert observed == entry.expected("computed", "rank_sum_difference")
    largest = np.ptp(rank_sums(ranks), axis=1)
    names = ("p_wide_round", "p_wide_narrow", "p_narrow_round")
    for difference, exact, name in zip(observed, entry.results["computed"]["exact_p"], names, strict=True):
        assert np.mean(largest >= difference - 1e-9) == share(exact)
        assert exact == pytest.approx(entry.results["published"][name], abs=0.03)


def test_trend_over_potash_in_cotton(check_value):
    """Page's L: ranks within blocks weighted by the order of the treatments."""
    entry = check_value("drift-page-cotton")
    table = np.array(entry.data["rows_are_blocks_columns_potash_144_108_72_54_36"])
    ranks = rankdata(table, axis=1).T
    weights = np.arange(1.0, 6)
    observed = float(weights @ ranks.sum(axis=1))
    assert observed == entry.expected("published", "l")
    assert observed == entry.expected("computed", "l")
    found = np.mean(rank_sums(ranks) @ weights >= observed)
    assert found == share(entry.results["computed"]["p_exact"])
    blocks, treatments = table.shape
    mean = blocks * treatments * (treatments + 1) ** 2 / 4
    spread = sqrt(blocks * (treatments * (treatments**2 - 1)) ** 2 / (144 * (treatments - 1)))
    z = (observed - mean) / spread
    assert z == entry.expected("published", "z")
    assert norm.sf(z) == entry.expected("published", "p_asymptotic")
    assert norm.sf(z) == entry.expected("computed", "p_asymptotic")
