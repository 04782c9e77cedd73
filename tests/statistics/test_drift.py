"""The trend against scipy's regression, and at its edges."""

import numpy as np
import pytest
from scipy.stats import linregress
from scipy.stats import t as student

from service.statistics.drift import trend


@pytest.mark.parametrize("points", [3, 6, 40])
@pytest.mark.parametrize("level", [0.8, 0.95, 0.99])
def test_it_is_the_regression_of_scipy(points, level):
    draw = np.random.default_rng(points)
    x, y = draw.uniform(0, 9, points), draw.normal(size=points)
    result, other = trend(x, y, level=level), linregress(x, y)
    reach = student.ppf((1 + level) / 2, points - 2) * other.stderr
    assert result.slope == pytest.approx(other.slope, rel=1e-9)
    assert result.standard_error == pytest.approx(other.stderr, rel=1e-9)
    assert result.p_value == pytest.approx(other.pvalue, rel=1e-9)
    assert (result.low, result.high) == pytest.approx((other.slope - reach, other.slope + reach), rel=1e-9)
    assert (result.level, result.degrees_of_freedom) == (level, points - 2)


def test_an_exact_line_leaves_nothing_over():
    result = trend([0, 1, 2, 3], [0.1, 0.3, 0.5, 0.7], level=0.95)
    assert (result.residual_sd, result.standard_error, result.p_value) == (0.0, 0.0, 0.0)
    assert result.low == result.slope == result.high == pytest.approx(0.2)


def test_a_level_line_does_not_slope():
    result = trend([0, 1, 2, 3], [0.3, 0.1 + 0.2, 0.3, 0.3], level=0.95)
    assert (result.slope, result.p_value, result.low, result.high) == (0.0, 1.0, 0.0, 0.0)


def test_too_few_points_or_no_spread_have_no_trend():
    assert trend([0, 1], [0, 1], level=0.95) is None
    assert trend([2, 2, 2], [0, 1, 3], level=0.95) is None


def test_what_is_no_pair_of_columns_is_refused():
    with pytest.raises(ValueError, match="3 values of x given, 2 of y"):
        trend([0, 1, 2], [0, 1], level=0.95)
    with pytest.raises(ValueError, match="finite"):
        trend([0, 1, 2], [0, np.nan, 1], level=0.95)
