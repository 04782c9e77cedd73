"""The trend against the certified values of a NIST reference data set."""

import pytest

from service.statistics.drift import trend


def test_norris(check_value):
    entry = check_value("drift-norris")
    result = trend(entry.data["x"], entry.data["y"], level=0.95)
    assert result.slope == entry.expected("published", "slope")
    assert result.standard_error == entry.expected("published", "slope_sd")
    assert result.residual_sd == entry.expected("published", "residual_sd")
    assert result.degrees_of_freedom == entry.results["published"]["residual_df"]
    assert [result.low, result.high] == entry.expected("computed", "slope_interval_95")


def test_norris_turned_round_has_the_certified_intercept(check_value):
    """Residuals y - b x do not slope, and their mean is the intercept."""
    entry = check_value("drift-norris")
    x, y = entry.data["x"], entry.data["y"]
    slope = trend(x, y, level=0.95).slope
    rest = [b - slope * a for a, b in zip(x, y, strict=True)]
    assert trend(x, rest, level=0.95).slope == pytest.approx(0.0, abs=1e-12)
    assert sum(rest) / len(rest) == pytest.approx(entry.results["published"]["intercept"], rel=1e-9)
