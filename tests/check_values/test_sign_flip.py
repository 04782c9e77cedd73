"""The sign-flip test and its interval against Box, Hunter and Hunter's shoes and Student's sleep data."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.sign_flip import flip_interval, sign_flip


def differences(entry):
    names = ("material_a", "material_b") if "material_a" in entry.data else ("drug_1", "drug_2")
    return np.subtract(entry.data[names[1]], entry.data[names[0]])


@pytest.mark.parametrize("name", ["sign-flip-shoes", "sign-flip-sleep"])
def test_counts_of_flips_as_published(check_value, name):
    entry = check_value(name)
    found = sign_flip(differences(entry), seed=1)
    assert found.flips == entry.results["computed"]["flips"]
    assert found.p_value * found.flips == entry.results["computed"]["two_sided_count"]
    assert found.p_value == entry.expected("computed", "p_two_sided")


@pytest.mark.parametrize("name", ["sign-flip-shoes", "sign-flip-sleep"])
def test_interval_from_the_subset_means(check_value, name):
    entry = check_value(name)
    values = differences(entry)
    order = entry.results["computed"]["order_of_subset_mean"]
    assert list(flip_interval(values, order, seed=1)) == entry.expected("computed", "interval_95")


@pytest.mark.parametrize("name", ["sign-flip-shoes", "sign-flip-sleep"])
def test_p_value_is_that_of_scipy(check_value, name):
    values = differences(check_value(name))
    reference = stats.permutation_test(
        (values,), np.mean, permutation_type="samples", alternative="two-sided", n_resamples=np.inf
    )
    assert sign_flip(values, seed=1).p_value == pytest.approx(reference.pvalue, rel=1e-12)


def test_smallest_p_value_by_number_of_rounds(check_value):
    entry = check_value("sign-flip-floor")
    found = [
        sign_flip(np.arange(1.0, n + 1), seed=1).p_value for n in entry.results["computed"]["rounds_needed"]
    ]
    assert found == entry.expected("computed", "smallest_p")
