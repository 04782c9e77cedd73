"""The plain decision rule against published numbers, other libraries and worked cases."""

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm, studentized_range
from statsmodels.regression.linear_model import OLS

from .plain_bell import bell_statistics
from .plain_fit import all_pairs, pair_statistics
from .plain_known_noise import known_noise_pairs
from .plain_looks import Plan, bell_critical, follow, paired_order, spent_by
from .plain_shuffled import shuffled_critical, shuffled_maxima, shuffled_p
from .plain_sign_flip import in_or_out, sign_flip_interval, sign_flip_p

CHECK_VALUES = Path(__file__).parents[1] / "check_values" / "check_values.json"


SIX, END = Plan(6, 0.05, True), Plan(6, 0.05, False)


@cache
def check_value(name):
    return next(v for v in json.loads(CHECK_VALUES.read_text(encoding="utf-8")) if v["id"] == name)


# sign flips -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "first", "second"),
    [("sign-flip-shoes", "material_b", "material_a"), ("sign-flip-sleep", "drug_2", "drug_1")],
)
def test_sign_flip_gives_the_published_p_and_interval(name, first, second):
    value = check_value(name)
    differences = np.array(value["data"][first]) - np.array(value["data"][second])
    computed = value["results"]["computed"]
    assert sign_flip_p(differences) == pytest.approx(computed["p_two_sided"], rel=1e-11)
    low, high = sign_flip_interval(differences, computed["order_of_subset_mean"])
    assert [low, high] == pytest.approx(computed["interval_95"], rel=1e-11)


def test_smallest_sign_flip_p_is_one_step():
    computed = check_value("sign-flip-floor")["results"]["computed"]
    found = [sign_flip_p(np.arange(1.0, n + 1.0)) for n in computed["rounds_needed"]]
    assert found == pytest.approx(computed["smallest_p"], rel=1e-11)


def test_drawn_sign_flips_come_near_the_exact_ones():
    """16 rounds exactly and, a round of difference 0 added, 17 by draws: the same p but for chance."""
    differences = np.random.default_rng(2).normal(0.45, 1.0, size=16)
    exact = sign_flip_p(differences)
    drawn = sign_flip_p(np.append(differences, 0.0), seed=5)
    assert drawn == pytest.approx(exact, abs=4 * np.sqrt(exact * (1 - exact) / 19_999))
    assert drawn != exact


def test_a_drawn_round_is_flipped_in_half_of_the_draws_and_the_seed_matters():
    chosen = in_or_out(17, 1, range(1, 18), 20_000)
    assert np.abs(chosen.mean(axis=0) - 0.5).max() < 4 * 0.5 / np.sqrt(20_000)
    assert not np.array_equal(chosen, in_or_out(17, 2, range(1, 18), 20_000))


def test_drawn_subsets_give_about_the_exact_interval():
    differences = np.random.default_rng(3).normal(1.0, 1.0, size=17)
    low, high = sign_flip_interval(differences, 500)
    assert low == pytest.approx(differences.mean() - 2.1 * differences.std(ddof=1) / np.sqrt(17), abs=0.1)
    assert high == pytest.approx(differences.mean() + 2.1 * differences.std(ddof=1) / np.sqrt(17), abs=0.1)


# the largest T --------------------------------------------------------------------------------------------


def penicillin(columns):
    rows = check_value("max-t-penicillin")["data"]["rows_are_blends_columns_a_b_c_d"]
    return np.array(rows).T[:columns]


@pytest.mark.parametrize(("name", "columns"), [("max-t-penicillin-three", 3), ("max-t-penicillin", 4)])
def test_pair_statistics_of_the_penicillin_table(name, columns):
    computed = check_value(name)["results"]["computed"]
    found = pair_statistics(penicillin(columns)[None] - 85.0)
    assert found.difference[0] == pytest.approx(computed["difference"], abs=1e-12)
    assert found.se[0] == pytest.approx(computed["standard_error"], abs=1e-6)
    assert found.t[0] == pytest.approx(computed["t"], abs=1e-6)


def test_every_arrangement_of_the_penicillin_table_gives_the_known_shares():
    computed = check_value("max-t-penicillin-three")["results"]["computed"]
    maxima = shuffled_maxima(penicillin(3), floor=0.0, tol=1e-7, seed=1)
    assert len(maxima) == 6**5
    counts = [shuffled_p(maxima, t) * 7777 - 1 for t in computed["t"]]
    assert np.array(counts) / 7776 == pytest.approx(computed["shuffled_share"], abs=1e-8)
    assert maxima.max() == pytest.approx(computed["largest_attainable"], abs=1e-6)
    assert shuffled_critical(maxima, 0.05) == pytest.approx(computed["shuffled_critical_95"], abs=1e-6)
    assert np.isinf(shuffled_critical(maxima, 1e-4))


def test_drawn_shuffles_come_near_the_known_shares():
    computed = check_value("max-t-penicillin")["results"]["computed"]
    maxima = shuffled_maxima(penicillin(4), floor=0.0, tol=1e-7, seed=1)
    assert len(maxima) == 19_999
    for t, share in zip(computed["t"], computed["shuffled_share"], strict=True):
        assert shuffled_p(maxima, t) == pytest.approx(share, abs=4 * np.sqrt(share * (1 - share) / 19_999))


@pytest.mark.parametrize("column", range(8))
def test_bell_shaped_critical_values_of_one_look(column):
    value = check_value("max-t-normal-readings")
    elements, rounds = (value["data"][key][column] for key in ("elements", "rounds"))
    computed = {key: row[column] for key, row in value["results"]["computed"].items() if len(row) == 8}
    largest, _ = bell_statistics(elements, rounds, 100_000, 0)
    allowed = 4 * np.hypot(computed["standard_error"], computed["standard_error_100000_draws"])
    [(at_95, level)] = follow([largest], [0.05])
    [(at_99, _)] = follow([largest], [0.01])
    assert at_95 == pytest.approx(computed["larger_variance"], abs=allowed)
    assert at_99 == pytest.approx(computed["larger_variance_99"], abs=3.5 * allowed)
    assert level == 0.05


@pytest.mark.parametrize(("elements", "rounds"), [(3, 6), (4, 4)])
def test_incomplete_tables_agree_with_ordinary_least_squares(elements, rounds):
    """Differences, pooled variance and variance factor as statsmodels' OLS has them."""
    rng = np.random.default_rng(elements)
    table = rng.normal(size=(elements, rounds))
    table[0, 0] = table[1, 2] = table[1, 3] = np.nan
    k, r = np.nonzero(~np.isnan(table))
    design = np.column_stack([k[:, None] == np.arange(elements), r[:, None] == np.arange(1, rounds)])
    fit = OLS(table[k, r], design.astype(float)).fit()
    found = pair_statistics(table[None])
    for column, (i, j) in enumerate(all_pairs(range(elements))):
        contrast = np.zeros(design.shape[1])
        contrast[i], contrast[j] = 1.0, -1.0
        test = fit.t_test(contrast)
        shared = (table[i] - table[j])[~np.isnan(table[i] - table[j])]
        own = shared.var(ddof=1) if len(shared) >= 2 else 0.0
        larger = np.sqrt(max(1.0, own / (2.0 * fit.mse_resid)))
        assert found.difference[0, column] == pytest.approx(test.effect[0], rel=1e-9)
        assert found.se[0, column] == pytest.approx(test.sd.item() * larger, rel=1e-9)
    assert found.df == fit.df_resid


# spending -------------------------------------------------------------------------------------------------

DRAWS = 400_000


@cache
def brownian(looks):
    """|Z| of equal steps of a Brownian path without drift, one array a look."""
    steps = np.random.default_rng(20_000 + looks).standard_normal((looks, DRAWS))
    return np.abs(np.cumsum(steps, axis=0)) / np.sqrt(np.arange(1, looks + 1))[:, None]


def assert_critical(looks, spends, expected):
    """Within four standard errors of an order statistic, at looks with 40 or more crossings."""
    compared = 0
    for (found, level), critical in zip(follow(list(brownian(looks)), spends), expected, strict=True):
        if level * DRAWS >= 40:
            error = np.sqrt(level / DRAWS) / (2.0 * norm.pdf(critical))
            assert found == pytest.approx(critical, abs=4.0 * error)
            compared += 1
    assert compared >= looks - 2


@pytest.mark.parametrize("looks", [2, 3, 5, 8])
def test_linear_spending(looks):
    spends = [0.05 * k / looks for k in range(1, looks + 1)]
    assert_critical(
        looks, spends, check_value("spending-linear-alpha")["results"]["computed"][f"{looks}_looks"]
    )


@pytest.mark.parametrize("planned", [2, 3, 5, 6, 8])
def test_spending_to_the_plan(planned):
    spends = [spent_by(k, Plan(planned, 0.05, True)) for k in range(1, planned + 1)]
    expected = check_value("spending-plan")["results"]["computed"][f"P_{planned}"]
    assert_critical(planned, spends, expected)


def test_spending_beyond_the_plan():
    value = check_value("spending-beyond-plan")
    spends = [spent_by(k, Plan(3, 0.05, True)) for k in range(1, 7)]
    assert spends == pytest.approx(value["data"]["spent"], rel=1e-7)
    assert_critical(6, spends, value["results"]["computed"]["critical"])


@pytest.mark.parametrize("looks", [2, 3, 4, 5])
def test_spending_of_the_obrien_fleming_and_pocock_types(looks):
    times = np.arange(1, looks + 1) / looks
    each_side = 2.0 * norm.sf(norm.isf(0.05 / 4.0) / np.sqrt(times))
    late = check_value("spending-obrien-fleming-type")["results"]["computed"][f"{looks}_looks"]
    assert_critical(looks, 2.0 * each_side, late)
    even = check_value("spending-pocock-type")["results"]["computed"][f"{looks}_looks"]
    assert_critical(looks, 0.05 * np.log1p((np.e - 1.0) * times), even)


def test_two_elements_count_in_whole_steps():
    """Plan of six rounds at 0.95: orders 1, 1, 2, 4 at rounds 6 to 9, and no look before."""
    found = [paired_order(r, SIX) for r in range(1, 10)]
    assert [f["order"] if f else 0 for f in found] == [0, 0, 0, 0, 0, 1, 1, 2, 4]
    assert found[5]["level"] == 2 / 64


def test_two_elements_have_no_look_below_four_degrees_of_freedom():
    generous = Plan(2, 0.2, True)
    assert paired_order(4, generous) is None
    assert paired_order(5, generous)["order"] == 2


def test_orders_from_fewer_draws_go_on_where_one_step_is_less_than_a_draw():
    """At 16 rounds one step, 2/2^16, is 0.06 of 4 000 draws; the order is still about that of 100 000."""
    few, many = (paired_order(16, SIX, draws=draws)["order"] for draws in (4_000, 100_000))
    assert few == pytest.approx(many, abs=40)


def test_planned_end_spends_all_at_the_plan():
    assert bell_critical(4, 5, END) is None
    at_plan = bell_critical(4, 6, END)
    assert at_plan["spent"] == 0.05
    assert at_plan["level"] == 0.05
    assert bell_critical(4, 7, END)["spent"] == pytest.approx(0.05 * (0.8 + 0.2 / 7))
    assert paired_order(5, END) is None
    assert paired_order(6, END)["order"] == 1
    assert paired_order(7, END)["spent"] == pytest.approx(0.05 * (1 + 0.2 / 7))


def test_the_noisier_pattern_counts_where_its_value_is_larger():
    found = bell_critical(3, 6, SIX)
    by_pattern = [
        follow(
            [bell_statistics(3, r, 100_000, p)[0] for r in (3, 4, 5, 6)],
            [spent_by(r, SIX) for r in (3, 4, 5, 6)],
        )
        for p in (0, 1)
    ]
    assert by_pattern[1][-1][0] > by_pattern[0][-1][0]
    assert (found["critical"], found["level"]) == by_pattern[1][-1]


# known noise ----------------------------------------------------------------------------------------------


def test_known_noise_is_tukeys_and_kramers_interval():
    value = check_value("tukey-kramer-three-brands")
    groups = np.array(value["data"]["groups"])
    published = value["results"]["published"]
    sd = np.sqrt(groups.var(axis=1, ddof=1).mean())
    found = known_noise_pairs([0, 1, 2], groups.mean(axis=1), np.full(3, 5), sd=sd, df=12, alpha=0.05)
    assert [found[p].low for p in all_pairs(range(3))] == pytest.approx(published["low"], abs=1e-6)
    assert [found[p].high for p in all_pairs(range(3))] == pytest.approx(published["high"], abs=1e-6)
    assert [found[p].adjusted_p for p in all_pairs(range(3))] == pytest.approx(published["p"], abs=1e-8)


def test_studentised_range_of_two_is_the_leaders_t():
    found = known_noise_pairs([0, 1], np.array([1.0, 0.0]), np.array([1, 1]), sd=0.1, df=9, alpha=0.025)[0, 1]
    assert found.low == pytest.approx(found.leader_low, rel=1e-6)
    assert found.low == pytest.approx(1.0 - 0.1 * studentized_range.ppf(0.975, 2, 9), rel=1e-9)
