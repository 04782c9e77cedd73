"""The signed-rank test against Hollander and Wolfe, Pratt, Conover and Student."""

from fractions import Fraction

import numpy as np
import pytest

from service.statistics.signed_rank import signed_rank


def assert_matches(result, entry, *block):
    assert result.method == "exact"
    assert result.n == entry.expected("computed", *block, "n_non_zero")
    assert result.statistic == entry.expected("computed", *block, "w_plus")
    assert result.p_greater == entry.expected("computed", *block, "p_greater")
    assert result.p_less == entry.expected("computed", *block, "p_less")
    assert result.p_value == entry.expected("computed", *block, "p_two_sided")


def twins(entry):
    return np.subtract(entry.data["second_born"], entry.data["first_born"])


def sleep(entry):
    return np.subtract(entry.data["drug_2"], entry.data["drug_1"])


def test_depression_scores_of_hollander_and_wolfe(check_value):
    entry = check_value("signed-rank-depression")
    result = signed_rank(np.subtract(entry.data["first"], entry.data["second"]))
    assert result.statistic == entry.expected("published", "v")
    assert result.p_greater == entry.expected("published", "p_greater")
    assert result.p_value == entry.expected("published", "p_two_sided")
    assert result.zeros == 0
    assert_matches(result, entry)


def test_pratt_ranks_the_zero_and_then_drops_its_rank(check_value):
    entry = check_value("signed-rank-pratt-zero")
    result = signed_rank(entry.data["values"])
    assert result.zeros == 1
    assert_matches(result, entry, "pratt")


def test_pratts_paradox_the_shifted_sample_is_less_striking(check_value):
    entry = check_value("signed-rank-pratt-zero")
    result = signed_rank(np.add(entry.data["values"], entry.data["shifted_by"]))
    numerator, power = entry.results["published"]["shifted_one_sided"].split("/2^")
    assert Fraction(result.p_greater) == Fraction(int(numerator), 2 ** int(power))
    assert_matches(result, entry, "shifted")


@pytest.mark.parametrize(
    ("name", "differences"), [("signed-rank-twins-zero-ties", twins), ("signed-rank-sleep-zero-ties", sleep)]
)
def test_zeros_and_ties_together(check_value, name, differences):
    entry = check_value(name)
    result = signed_rank(differences(entry))
    assert result.zeros == 1
    assert_matches(result, entry, "pratt")


@pytest.mark.parametrize(
    ("name", "differences"),
    [
        ("signed-rank-pratt-zero", lambda entry: np.array(entry.data["values"])),
        ("signed-rank-twins-zero-ties", twins),
        ("signed-rank-sleep-zero-ties", sleep),
    ],
)
def test_without_its_zeros_a_sample_has_the_other_published_treatment(check_value, name, differences):
    entry = check_value(name)
    values = differences(entry)
    assert_matches(signed_rank(values[values != 0]), entry, "zeros_dropped")


def test_signed_sum_of_the_twins_as_conover_prints_it(check_value):
    entry = check_value("signed-rank-twins-zero-ties")
    values = twins(entry)
    result = signed_rank(values[values != 0])
    total = entry.results["computed"]["zeros_dropped"]["rank_total"]
    assert 2 * result.statistic - total == entry.expected("published", "signed_rank_sum_zeros_dropped")
