"""Repeatability against ISO 5725-2, Shrout and Fleiss, and the NIST reference data sets.

The examples of ISO 5725-2 and NIST have one way of grouping and unequal numbers: each laboratory or
instrument is one element, and the variances are pooled by their degrees of freedom.
"""

import numpy as np
import pytest

from service.statistics.repeatability import repeatability


def pooled(groups):
    """Repeatability sd and its degrees of freedom over groups that share nothing."""
    parts = [repeatability([group]) for group in groups]
    freedom = sum(part.degrees_of_freedom for part in parts)
    return np.sqrt(sum(part.degrees_of_freedom * part.sd**2 for part in parts) / freedom), freedom


def between_groups_sd(groups, s_r):
    """s_L of ISO 5725-2:1994, 7.4.5, for groups of unequal size."""
    sizes = np.array([len(group) for group in groups])
    means = np.array([np.mean(group) for group in groups])
    grand = np.average(means, weights=sizes)
    s_d = (sizes * (means - grand) ** 2).sum() / (len(groups) - 1)
    n = (sizes.sum() - (sizes**2).sum() / sizes.sum()) / (len(groups) - 1)
    return np.sqrt((s_d - s_r**2) / n)


@pytest.mark.parametrize("level", range(4))
def test_sulphur_in_coal(check_value, level):
    entry = check_value("repeatability-iso-5725-2-coal")
    groups = [laboratory[level] for laboratory in entry.data.values()]
    s_r, freedom = pooled(groups)
    assert freedom == entry.results["computed"]["df"][level]
    assert s_r == entry.expected("published", "s_r")[level]
    assert s_r == entry.expected("computed", "s_r")[level]
    reproducibility = np.hypot(s_r, between_groups_sd(groups, s_r))
    assert reproducibility == entry.expected("published", "s_R")[level]
    assert reproducibility == entry.expected("computed", "s_R")[level]
    assert 2.8 * s_r == entry.expected("computed", "limit_2_8_s_r")[level]


def test_judges_of_shrout_and_fleiss(check_value):
    entry = check_value("icc-shrout-fleiss")
    ratings = np.array(entry.data["rows_are_targets_columns_judges"])
    result = repeatability(ratings)
    assert result.degrees_of_freedom == 15
    for kind in ("published", "computed"):
        assert result.icc == entry.expected(kind, "icc_3_1")
        assert result.sd**2 == entry.expected(kind, "ems")


def test_the_rest_of_their_table_follows(check_value):
    """Mean squares and the other correlations, from ICC(3,1) and the residual of targets and of judges."""
    entry = check_value("icc-shrout-fleiss")
    ratings = np.array(entry.data["rows_are_targets_columns_judges"])
    n, k = ratings.shape
    by_target, by_judge = repeatability(ratings), repeatability(ratings.T)
    ems = by_target.sd**2
    bms = ems * (1 + (k - 1) * by_target.icc) / (1 - by_target.icc)
    jms = ems * (1 + (n - 1) * by_judge.icc) / (1 - by_judge.icc)
    wms = ((k - 1) * (n - 1) * ems + (k - 1) * jms) / (n * (k - 1))
    for kind in ("published", "computed"):
        assert bms == entry.expected(kind, "bms")
        assert jms == entry.expected(kind, "jms")
        assert wms == entry.expected(kind, "wms")
        assert (bms - wms) / (bms + (k - 1) * wms) == entry.expected(kind, "icc_1_1")
        assert (bms - wms) / bms == entry.expected(kind, "icc_1_4")
        assert (bms - ems) / (bms + (k - 1) * ems + k * (jms - ems) / n) == entry.expected(kind, "icc_2_1")
        assert (bms - ems) / (bms + (jms - ems) / n) == entry.expected(kind, "icc_2_4")
        assert k * by_target.icc / (1 + (k - 1) * by_target.icc) == entry.expected(kind, "icc_3_4")


def test_silicon_resistivity(check_value):
    entry = check_value("anova-sirstv")
    s_r, freedom = pooled(entry.data["instruments"])
    assert s_r == pytest.approx(entry.results["published"]["s_r"], rel=1e-9)
    assert freedom == entry.results["published"]["df"][1]
    limits = [repeatability([group]).limit ** 2 for group in entry.data["instruments"]]
    assert np.sqrt(np.mean(limits)) == entry.expected("computed", "limit_2_8_s_r")
