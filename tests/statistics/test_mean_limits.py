"""The interval of a mean, against scipy."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.mean_limits import mean_limits

ROUNDS = np.array([0.3, -0.1, 0.8, 0.2])


@pytest.mark.parametrize("level", [0.80, 0.95, 0.99])
def test_it_is_students_interval(level):
    expected = stats.ttest_1samp(ROUNDS, 0.0).confidence_interval(level)
    assert mean_limits(ROUNDS, level=level) == pytest.approx((expected.low, expected.high), rel=1e-12)


def test_a_quiet_meter_reaches_as_far_as_its_step():
    low, high = mean_limits(np.full(8, 2.0), level=0.95, floor=0.25)
    assert (low, high) == (1.0, 3.0)
    assert mean_limits(ROUNDS, level=0.95, floor=0.01) == mean_limits(ROUNDS, level=0.95)


def test_one_round_or_none_that_differs_gives_nothing():
    assert mean_limits(ROUNDS[:1], level=0.95) is None
    assert mean_limits(np.full(3, 2.0), level=0.95) is None
