"""What the entries print beside the main number: counts, means, classical statistics, other shares."""

from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from service.statistics.repeatability import repeatability
from service.statistics.sign_flip import sign_flip
from service.statistics.sign_test import sign_test
from service.statistics.signed_rank import signed_rank


def shoes_or_sleep(entry):
    names = ("material_a", "material_b") if "material_a" in entry.data else ("drug_1", "drug_2")
    return np.subtract(entry.data[names[1]], entry.data[names[0]])


@pytest.mark.parametrize("name", ["sign-flip-shoes", "sign-flip-sleep"])
def test_one_side_of_the_flips(check_value, name):
    """Without differences of both signs tying, the larger side holds half of the two-sided count."""
    entry = check_value(name)
    computed = entry.results["computed"]
    found = sign_flip(shoes_or_sleep(entry), seed=1)
    assert found.p_value * found.flips / 2 == computed["one_sided_count"]
    assert computed["one_sided_count"] == computed["strictly_greater"] + computed["equal"]
    assert found.p_value / 2 == entry.expected("computed", "p_one_sided")
    published = entry.results["published"]
    if "strictly_greater" in published:
        assert [published["strictly_greater"], published["equal"]] == [
            computed["strictly_greater"],
            computed["equal"],
        ]


@pytest.mark.parametrize("name", ["sign-flip-shoes", "sign-flip-sleep"])
def test_the_t_test_beside_it(check_value, name):
    entry = check_value(name)
    values = shoes_or_sleep(entry)
    reference = stats.ttest_1samp(values, 0.0)
    assert values.mean() == entry.expected("published", "mean")
    for kind in ("published", "computed"):
        results = entry.results[kind]
        if "t" in results:
            assert reference.statistic == entry.expected(kind, "t")
        if "t_p" in results:
            assert reference.pvalue == entry.expected(kind, "t_p")
        if "t_df" in results:
            assert reference.df == results["t_df"]


def ranked_sets(check_value):
    depression = check_value("signed-rank-depression")
    yield depression.results["computed"], np.subtract(depression.data["first"], depression.data["second"])
    for name, given in (
        ("signed-rank-pratt-zero", lambda data: np.array(data["values"])),
        ("signed-rank-twins-zero-ties", lambda data: np.subtract(data["second_born"], data["first_born"])),
        ("signed-rank-sleep-zero-ties", lambda data: np.subtract(data["drug_2"], data["drug_1"])),
    ):
        entry = check_value(name)
        values = given(entry.data)
        yield entry.results["computed"]["pratt"], values
        yield entry.results["computed"]["zeros_dropped"], values[values != 0]


def test_negative_ranks_and_counts_of_signs(check_value):
    seen = 0
    for expected, values in ranked_sets(check_value):
        result = signed_rank(values)
        total = expected["w_plus"] + expected["w_minus"]
        assert signed_rank(-values).statistic == expected["w_minus"]
        assert result.p_greater * expected["sign_patterns"] == expected["count_greater"]
        assert result.p_value * expected["sign_patterns"] == expected["count_two_sided"]
        assert 2**result.n == expected["sign_patterns"]
        assert expected.get("rank_total", total) == total
        seen += 1
    assert seen == 7


def test_reduced_sample_is_not_what_a_secondary_source_quotes(check_value):
    """55 of 4096 is the tail one step further out; the law itself says 70."""
    entry = check_value("signed-rank-pratt-zero")
    values = np.array(entry.data["values"])
    quoted = entry.results["published"]["reduced_one_sided_as_quoted"].split("/2^")
    result = signed_rank(values[values != 0])
    assert Fraction(result.p_greater) == Fraction(70, 4096)
    assert Fraction(int(quoted[0]), 2 ** int(quoted[1])) < Fraction(result.p_greater)


def test_normal_approximations_that_books_print(check_value):
    twins = check_value("signed-rank-twins-zero-ties")
    values = np.subtract(twins.data["second_born"], twins.data["first_born"])
    ranks = stats.rankdata(np.abs(values[values != 0]))
    rank_sum = 2 * signed_rank(values[values != 0]).statistic - ranks.sum()
    standardised = rank_sum / np.sqrt((ranks**2).sum())
    assert standardised == twins.expected("published", "standardised")
    assert standardised == twins.expected("computed", "standardised")
    sleep = check_value("signed-rank-sleep-zero-ties")
    gains = np.subtract(sleep.data["drug_2"], sleep.data["drug_1"])
    assert signed_rank(gains[gains != 0]).statistic == sleep.results["published"]["v"]
    reference = stats.wilcoxon(gains, zero_method="wilcox", correction=True, method="approx")
    assert reference.pvalue == sleep.expected("published", "p_normal_continuity")


def test_mid_p_of_the_sign_test(check_value):
    """Half of the chance of the count observed is left off."""
    entry = check_value("sign-test-depression")
    result = sign_test(np.subtract(entry.data["first"], entry.data["second"]))
    trials = result.positive + result.negative
    mid_p = result.p_value / 2 - stats.binom.pmf(result.positive, trials, 0.5) / 2
    assert result.p_value / 2 == entry.expected("published", "p_greater")
    assert mid_p == entry.expected("published", "mid_p_greater")


def test_silicon_between_instruments(check_value):
    entry = check_value("anova-sirstv")
    groups = np.array(entry.data["instruments"])
    size = groups.shape[1]
    within = sum(repeatability([group]).sd ** 2 * (size - 1) for group in groups)
    means = groups.mean(axis=1) - groups.mean()
    between = size * (means**2).sum()
    published = entry.results["published"]
    assert between == pytest.approx(published["ss_between"], rel=1e-9)
    assert within == pytest.approx(published["ss_within"], rel=1e-9)
    f = (between / published["df"][0]) / (within / published["df"][1])
    assert f == pytest.approx(published["f"], rel=1e-9)
    assert (f - 1) / (f + size - 1) == entry.expected("computed", "icc_1_1")


def test_pairs_that_the_t_test_needs(check_value):
    """The tabled numbers are the computed ones rounded up; each reaches its power, one less does not."""
    entry = check_value("power-paired-t")
    for percent in (80, 90):
        published = entry.results["published"][f"pairs_{percent}_percent"]
        computed = entry.results["computed"][f"pairs_{percent}_percent"]
        assert list(np.ceil(computed)) == published
        for effect, pairs in zip(entry.data["effect_in_sd_of_differences"], published, strict=True):
            assert t_power(pairs, effect) >= percent / 100 > t_power(pairs - 1, effect)
    assert t_power(12, 1.0) == entry.expected("computed", "power_at_n_12_effect_1")


def t_power(pairs, effect):
    bound = stats.t.ppf(0.975, pairs - 1)
    shifted = stats.nct(pairs - 1, effect * np.sqrt(pairs))
    return shifted.sf(bound) + shifted.cdf(-bound)
