"""Cochran's Q against Cochran's diphtheria media and Conover's judges.

Each row of the examples stands by itself, so it is a round with one channel.
"""

from math import sqrt

import numpy as np
import pytest
from scipy.stats import chi2

from service.statistics.cochran_q import cochran_q


def drawn_p(p: float):
    """A share of 19 999 draws: within four standard errors of the exact chance."""
    return pytest.approx(p, rel=0, abs=4 * sqrt(p * (1 - p) / 19_999) + 1 / 20_000)


def each_row_a_round(rows):
    return np.transpose(rows)[:, :, None]


def test_diphtheria_media(check_value):
    entry = check_value("cochran-diphtheria-media")
    rows = []
    for pattern, times in zip(entry.data["patterns_abcd"], entry.data["times"], strict=True):
        rows += [[int(mark) for mark in pattern]] * times
    result = cochran_q(each_row_a_round(rows), seed=1)
    assert result.statistic == entry.expected("published", "statistic")
    assert result.statistic == entry.expected("computed", "statistic")
    assert chi2.sf(result.statistic, 3) == entry.expected("published", "p_chi2")
    assert result.p_value == drawn_p(entry.results["computed"]["exact_p"])


def test_three_judges(check_value):
    entry = check_value("cochran-three-judges")
    result = cochran_q(each_row_a_round(entry.data["rows"]), seed=1)
    assert result.statistic == entry.expected("published", "statistic")
    assert result.statistic == entry.expected("computed", "statistic")
    assert chi2.sf(result.statistic, 2) == entry.expected("published", "p_chi2")
    assert result.p_value == drawn_p(entry.results["computed"]["exact_p"])
