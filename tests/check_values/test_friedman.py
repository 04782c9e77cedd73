"""Friedman's test against Hollander and Wolfe's examples and Friedman's own table."""

from itertools import combinations_with_replacement, permutations
from math import sqrt

import numpy as np
import pytest
from scipy.stats import chi2

from service.statistics.friedman import friedman

NINE_DIGITS = 5e-9  # the tails of the table stand there with nine digits


def drawn_p(p: float):
    """A share of 19 999 draws: within four standard errors of the exact chance."""
    return pytest.approx(p, rel=0, abs=4 * sqrt(p * (1 - p) / 19_999) + 1 / 20_000)


def attainable(rounds: int) -> dict[float, np.ndarray]:
    """For three treatments, one table of scores (3, rounds) for each value the statistic can take."""
    tables = {}
    for orders in combinations_with_replacement(permutations(range(3)), rounds):
        scores = np.array(orders, dtype=float).T
        spread = ((scores.sum(axis=1) - rounds) ** 2).sum()
        tables.setdefault(round(float(spread) / rounds, 6), scores)
    return tables


def test_rounding_first_base_has_the_printed_statistic(check_value):
    entry = check_value("friedman-rounding-first-base")
    result = friedman(np.transpose(entry.data["players_by_round_out_narrow_wide"]), seed=1)
    assert result.statistic == entry.expected("published", "statistic")
    assert result.statistic == entry.expected("computed", "statistic")
    assert chi2.sf(result.statistic, 2) == entry.expected("published", "p_chi2")
    assert result.kendall_w == entry.expected("computed", "kendall_w")
    assert result.method == "19999 draws"
    assert result.p_value == drawn_p(entry.results["computed"]["exact_p"])


def test_cotton_without_ties(check_value):
    entry = check_value("friedman-cotton")
    blocks = entry.data["rows_are_blocks_columns_potash_144_108_72_54_36"]
    result = friedman(np.transpose(blocks), seed=1)
    assert result.statistic == entry.expected("computed", "statistic")
    assert result.kendall_w == entry.expected("computed", "kendall_w")
    assert result.p_value == drawn_p(entry.results["computed"]["exact_p"])


@pytest.mark.parametrize("rounds", [3, 4, 5, 6, 7, 8, 9, 10])
def test_tails_of_the_table_for_three_treatments(check_value, rounds):
    rows = check_value("friedman-table-three-treatments").results["computed"]
    row = next(row for row in rows if row["n"] == rounds)
    tables = attainable(rounds)
    for value, tail in zip(row["value"], row["tail_p"], strict=True):
        result = friedman(tables[value], seed=1)
        assert result.statistic == pytest.approx(value, abs=1e-6)
        if rounds <= 5:
            assert (result.method, result.p_value) == ("exact", pytest.approx(tail, rel=NINE_DIGITS))
        else:
            assert (result.method, result.p_value) == ("19999 draws", drawn_p(tail))


@pytest.mark.parametrize(("rounds", "level"), [(3, 0.05), (4, 0.05), (5, 0.05), (4, 0.01), (5, 0.01)])
def test_critical_values_are_the_smallest_within_the_level(check_value, rounds, level):
    published = check_value("friedman-table-three-treatments").results["published"]
    name = "critical_5_percent" if level == 0.05 else "critical_1_percent"
    critical = published[name][published["n"].index(rounds)]
    tables = attainable(rounds)
    below = max(value for value in tables if value < critical - 0.0005)
    assert friedman(tables[critical], seed=1).p_value <= level
    assert friedman(tables[below], seed=1).p_value > level


def test_three_treatments_and_three_rounds_never_reach_one_percent(check_value):
    published = check_value("friedman-table-three-treatments").results["published"]
    assert published["critical_1_percent"][published["n"].index(3)] is None
    assert friedman(attainable(3)[6.0], seed=1).p_value > 0.01
