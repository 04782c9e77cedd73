"""Degrees of freedom of a sum of variances, against scipy's of Welch's test."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.satterthwaite import satterthwaite


@pytest.mark.parametrize("counts", [(3, 12), (6, 6), (40, 5)])
def test_of_two_means_they_are_those_of_welchs_test(counts):
    rng = np.random.default_rng(7)
    one, other = (
        rng.normal(scale=scale, size=count) for scale, count in zip((3.0, 1.0), counts, strict=True)
    )
    variances = np.array([values.var(ddof=1) / len(values) for values in (one, other)])
    found = satterthwaite(variances, np.array(counts) - 1.0)
    assert found == pytest.approx(stats.ttest_ind(one, other, equal_var=False).df, rel=1e-12)


def test_where_nothing_varies_there_are_none():
    assert satterthwaite(np.zeros(2), np.array([2.0, 3.0])) is None
