"""Looks against published group-sequential bounds: the rule in its normal limit, fed Brownian paths."""

from functools import cache

import numpy as np
import pytest
from scipy.stats import norm

from service.statistics.looks import Boundary, Plan

DRAWS = 400_000


@cache
def paths(looks):
    """|Z| of a Brownian path without drift at equal steps, (looks, draws)."""
    steps = np.random.default_rng(911 + looks).standard_normal((looks, DRAWS))
    return np.abs(np.cumsum(steps, axis=0)) / np.sqrt(np.arange(1, looks + 1))[:, None]


def assert_bounds(spent, expected):
    """Each bound within 4.5 standard errors of an order statistic of this many draws."""
    boundary = Boundary(DRAWS)
    for statistic, error, bound in zip(paths(len(spent)), spent, expected, strict=True):
        critical, level = boundary.look(statistic, spent=error, counted=error)
        if level * DRAWS < 50:
            continue
        allowed = 4.5 * np.sqrt(level / DRAWS) / (2.0 * norm.pdf(bound))
        assert critical == pytest.approx(bound, abs=allowed)
    assert boundary.crossed.mean() == pytest.approx(spent[-1], abs=2 / DRAWS)


@pytest.mark.parametrize("looks", [2, 3, 5, 8])
def test_error_spent_evenly(check_value, looks):
    entry = check_value("spending-linear-alpha")
    spent = [0.05 * look / looks for look in range(1, looks + 1)]
    assert_bounds(spent, entry.results["computed"][f"{looks}_looks"])


@pytest.mark.parametrize("planned", [2, 3, 5, 6, 8])
def test_error_spent_to_the_plan(check_value, planned):
    plan = Plan(planned, 0.05, True)
    spent = [plan.spent(number, elements=3) for number in range(1, planned + 1)]
    assert_bounds(spent, check_value("spending-plan").results["computed"][f"P_{planned}"])


def test_error_spent_beyond_the_plan(check_value):
    entry = check_value("spending-beyond-plan")
    plan = Plan(entry.data["planned"], 0.05, True)
    spent = [plan.spent(number, elements=3) for number in range(1, 7)]
    assert spent == pytest.approx(entry.data["spent"], rel=1e-7)
    assert_bounds(spent, entry.results["computed"]["critical"])


@pytest.mark.parametrize("looks", [2, 3, 4, 5])
def test_the_late_and_the_even_spending_functions(check_value, looks):
    times = np.arange(1, looks + 1) / looks
    late = 2.0 * (2.0 - 2.0 * norm.cdf(norm.ppf(1 - 0.05 / 4) / np.sqrt(times)))
    assert_bounds(late, check_value("spending-obrien-fleming-type").results["computed"][f"{looks}_looks"])
    even = 0.05 * np.log(1 + (np.e - 1) * times)
    assert_bounds(even, check_value("spending-pocock-type").results["computed"][f"{looks}_looks"])


def test_a_look_without_correction_calls_too_often(check_value):
    """Four looks at 1.96 each: the error that the spending rule is there to prevent, as tabled."""
    expected = check_value("group-sequential-classical").results["computed"]
    naive = expected["naive_two_sided_error_looks_2_4_10_20"][1]
    ever = (paths(4) > norm.ppf(0.975)).any(axis=0).mean()
    assert ever == pytest.approx(naive, abs=4 * np.sqrt(naive / DRAWS))
