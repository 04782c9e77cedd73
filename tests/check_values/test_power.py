"""Power of the sign-flip test against the paired t test of the usual sample-size tables."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.sign_flip import sign_flip

SETS = 1_500


@pytest.mark.parametrize(("rounds", "name"), [(10, "n_10"), (12, "n_12")])
def test_power_at_an_effect_of_one_sd(check_value, rounds, name):
    expected = check_value("power-paired-t").results["computed"]
    draws = np.random.default_rng(rounds).normal(1.0, 1.0, size=(SETS, rounds))
    power = np.mean([sign_flip(row, seed=1).p_value <= 0.05 for row in draws])
    simulated = expected[f"sign_flip_simulated_{name}_effect_1"]
    assert power == pytest.approx(simulated, abs=4 * np.sqrt(simulated * (1 - simulated) / SETS))


def test_the_t_test_has_the_tabled_power(check_value):
    """The yardstick itself, from scipy's noncentral t."""
    expected = check_value("power-paired-t")
    bound = stats.t.ppf(0.975, 9)
    shifted = stats.nct(9, np.sqrt(10))
    power = shifted.sf(bound) + shifted.cdf(-bound)
    assert power == expected.expected("computed", "power_at_n_10_effect_1")
