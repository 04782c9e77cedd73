"""One round judged by a known noise: the studentised range against SAS's example and scipy."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.known_noise import ANOTHER_DAY, known_look, pooled_noise
from service.statistics.results import Repeats


@pytest.fixture
def groups(check_value):
    return [np.array(group) for group in check_value("tukey-kramer-three-brands").data["groups"]]


@pytest.fixture
def repeats(groups):
    element = np.repeat(np.arange(3), [len(group) for group in groups])
    return Repeats(element, np.zeros_like(element), np.concatenate(groups))


def look(groups, repeats, alpha):
    noise = pooled_noise(repeats, None)
    plain = type(noise)(noise.sd / ANOTHER_DAY, noise.degrees_of_freedom)
    means = np.array([group.mean() for group in groups])
    difference = np.array([means[0] - means[1], means[0] - means[2], means[1] - means[2]])
    return known_look(difference, repeats, plain, members=np.ones(3, dtype=bool), alpha=alpha, floor=0.0)


def test_repeats_pool_to_the_sd_within_groups(check_value, repeats):
    expected = check_value("tukey-kramer-three-brands").results["computed"]
    noise = pooled_noise(repeats, None)
    assert noise.degrees_of_freedom == expected["degrees_of_freedom"]
    assert noise.sd / ANOTHER_DAY == pytest.approx(expected["pooled_sd"], rel=1e-10)


def test_intervals_and_p_values_as_printed(check_value, groups, repeats):
    published = check_value("tukey-kramer-three-brands").results["published"]
    found = look(groups, repeats, 0.05)
    reach = found.critical * found.standard_error
    assert list(found.difference - reach) == pytest.approx(published["low"], abs=1e-6)
    assert list(found.difference + reach) == pytest.approx(published["high"], abs=1e-6)
    assert list(found.adjusted_p) == pytest.approx(published["p"], abs=1e-7)


def test_p_values_are_those_of_scipy(groups, repeats):
    reference = stats.tukey_hsd(*groups).pvalue
    found = look(groups, repeats, 0.05).adjusted_p
    assert list(found) == pytest.approx([reference[0, 1], reference[0, 2], reference[1, 2]], abs=1e-9)
