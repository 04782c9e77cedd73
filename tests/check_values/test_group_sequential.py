"""Looks against tables of constant and falling bounds, and the power they leave, in the normal limit."""

from functools import cache

import numpy as np
import pytest
from scipy.stats import norm

from service.statistics.looks import Boundary, Plan

DRAWS = 400_000


@cache
def paths(looks, seed):
    """Z of a Brownian path without drift at equal steps, (looks, draws)."""
    steps = np.random.default_rng(seed + looks).standard_normal((looks, DRAWS))
    return np.cumsum(steps, axis=0) / np.sqrt(np.arange(1, looks + 1))[:, None]


def error_spent(statistics, bounds):
    """Share of paths that crossed by each look."""
    crossed = np.abs(statistics) > np.array(bounds)[:, None]
    return np.logical_or.accumulate(crossed, axis=0).mean(axis=1)


def bounds_that_spend(statistics, spent):
    boundary = Boundary(statistics.shape[1])
    looks = zip(np.abs(statistics), spent, strict=True)
    return [boundary.look(statistic, spent=error, counted=error)[0] for statistic, error in looks]


def assert_recovered(bounds):
    """Error spent by the bounds on some paths; the looks, fed other paths, find the bounds again."""
    spent = error_spent(paths(len(bounds), 300), bounds)
    assert spent[-1] == pytest.approx(0.05, abs=4.5 * np.sqrt(0.05 * 0.95 / DRAWS))
    found = bounds_that_spend(paths(len(bounds), 700), spent)
    increments = np.diff(spent, prepend=0)
    for critical, bound, step in zip(found, bounds, increments, strict=True):
        if step * DRAWS >= 50:
            allowed = 6.5 * np.sqrt(step / DRAWS) / (2 * norm.pdf(bound))  # both sets of paths are drawn
            assert critical == pytest.approx(bound, abs=allowed)


@pytest.mark.parametrize("place", range(4))
def test_constant_bounds(check_value, place):
    entry = check_value("group-sequential-classical")
    for kind in ("published", "computed"):
        assert_recovered([entry.results[kind]["pocock"][place]] * entry.data["looks"][place])


@pytest.mark.parametrize("place", range(4))
def test_falling_bounds(check_value, place):
    entry = check_value("group-sequential-classical")
    looks = entry.data["looks"][place]
    for kind in ("published", "computed"):
        last = entry.results[kind]["obrien_fleming_last"][place]
        assert_recovered([last * np.sqrt(looks / look) for look in range(1, looks + 1)])


@pytest.mark.parametrize("kind", ["published", "computed"])
def test_the_four_falling_bounds_as_printed(check_value, kind):
    entry = check_value("group-sequential-classical")
    last = entry.results[kind]["obrien_fleming_last"][2]
    printed = entry.results[kind]["obrien_fleming_four"]
    assert [last * np.sqrt(4 / look) for look in (1, 2, 3, 4)] == pytest.approx(printed, abs=0.006)


@pytest.mark.parametrize("place", range(4))
def test_looking_without_correction(check_value, place):
    entry = check_value("group-sequential-classical")
    looks = (2, 4, 10, 20)[place]
    ever = error_spent(paths(looks, 300), [norm.ppf(0.975)] * looks)[-1]
    two_sided = entry.results["computed"]["naive_two_sided_error_looks_2_4_10_20"][place]
    assert ever == pytest.approx(two_sided, abs=4.5 * np.sqrt(two_sided / DRAWS))
    one_sided = entry.results["published"]["naive_one_sided_error_looks_2_4_10_20"][place]
    assert two_sided / 2 == pytest.approx(one_sided, abs=0.0006)


@pytest.mark.parametrize(
    "name", ["spending-linear-alpha", "spending-obrien-fleming-type", "spending-pocock-type"]
)
def test_printed_bounds_are_those_computed(check_value, name):
    entry = check_value(name)
    allowed = entry.tolerance["published"]
    for word, number in (("five_looks", "5_looks"), ("four_looks", "4_looks")):
        if word in entry.results["published"]:
            printed = entry.results["published"][word]
            assert entry.results["computed"][number] == pytest.approx(printed, abs=allowed)


def test_error_spent_by_the_late_function_as_printed(check_value):
    entry = check_value("spending-obrien-fleming-type")
    times = np.arange(1, 6) / 5
    late = 2 * (2 - 2 * norm.cdf(norm.ppf(1 - 0.05 / 4) / np.sqrt(times)))
    assert list(late) == pytest.approx(entry.results["published"]["five_spent"], rel=5e-5)
    assert list(late) == pytest.approx(entry.data["spent_5"], rel=1e-6)


def test_drift_that_five_even_looks_find_nine_times_in_ten(check_value):
    entry = check_value("spending-linear-alpha")
    found = bounds_that_spend(paths(5, 700), [0.01, 0.02, 0.03, 0.04, 0.05])
    times = np.arange(1, 6)[:, None] / 5
    for kind in ("published", "computed"):
        drift = entry.results[kind]["drift_for_90_percent_power"]
        power = (paths(5, 300) + drift * np.sqrt(times) > np.array(found)[:, None]).any(axis=0).mean()
        assert power == pytest.approx(0.9, abs=0.004)


def test_even_bounds_for_the_error_before_the_plan_ends(check_value):
    entry = check_value("spending-linear-alpha")
    found = bounds_that_spend(paths(5, 300), [0.008, 0.016, 0.024, 0.032, 0.04])
    assert found == pytest.approx(entry.results["computed"]["five_looks_alpha_0_04"], abs=0.03)


def test_readings_that_ten_squared_looks_cost(check_value):
    """Spending alpha t^2 over ten looks: information at most and on average, in percent of one look."""
    entry = check_value("spending-plan")
    plan = Plan(10, 0.05 / 0.8, True)
    spent = [plan.spent(number, elements=3) for number in range(1, 11)]
    assert spent[-1] == pytest.approx(0.05, rel=1e-12)
    found = np.array(bounds_that_spend(paths(10, 700), spent))[:, None]
    one_look = (norm.ppf(0.975) + norm.ppf(0.8)) ** 2
    share = np.arange(1, 11)[:, None] / 10
    for kind in ("published", "computed"):
        percent = entry.results[kind]["maximum_information_percent"]
        drift = np.sqrt(one_look * percent / 100)
        power = (paths(10, 300) + drift * np.sqrt(share) > found).any(axis=0).mean()
        assert power == pytest.approx(0.8, abs=0.004)
        crossed = np.abs(paths(10, 300)) > found
        stopped = np.where(crossed.any(axis=0), crossed.argmax(axis=0) + 1, 10) / 10
        expected = entry.results[kind]["expected_percent_under_null"]
        assert percent * stopped.mean() == pytest.approx(expected, abs=0.1)
