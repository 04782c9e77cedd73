"""Outcomes of single intervals, at their edges."""

import numpy as np
import pytest

from service.statistics.intervals import outcomes, tolerance


@pytest.mark.parametrize(
    ("low", "high", "outcome"),
    [
        (-0.5, 0.5, "within noise"),
        (-0.5 - 5e-10, 0.5 + 5e-10, "within noise"),
        (0.1, 0.4, "within noise"),
        (0.1, 0.6, "clear winner"),
        (0.0, 0.6, "needs more runs"),
        (5e-10, 0.6, "needs more runs"),
        (-0.9, -0.2, "clear winner"),
        (-0.6, 0.1, "needs more runs"),
        (-np.inf, np.inf, "needs more runs"),
        (np.nan, 0.2, "needs more runs"),
        (0.0, 0.0, "within noise"),
    ],
)
def test_outcome_of_an_interval(low, high, outcome):
    assert outcomes(np.array([low]), np.array([high]), margin=0.5, tol=1e-9).tolist() == [outcome]


def test_tolerance_grows_with_the_readings():
    assert tolerance(np.array([[np.nan, -300.0]])) == pytest.approx(3e-7)
    assert tolerance(np.array([[np.nan]])) == 1e-9
