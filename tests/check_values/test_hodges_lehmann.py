"""The Hodges-Lehmann estimate and interval against Hollander and Wolfe, and with ties."""

import numpy as np

from service.statistics.hodges_lehmann import hodges_lehmann


def test_depression_scores_as_printed(check_value):
    entry = check_value("hodges-lehmann-depression")
    result = hodges_lehmann(np.subtract(entry.data["first"], entry.data["second"]), 0.95)
    for kind in ("published", "computed"):
        assert result.estimate == entry.expected(kind, "estimate")
        assert [result.low, result.high] == entry.expected(kind, "interval")
        assert result.level == entry.expected(kind, "achieved_level")


def test_shoes_with_ties_keep_the_law_without_ties(check_value):
    entry = check_value("hodges-lehmann-shoes-ties")
    result = hodges_lehmann(np.subtract(entry.data["material_b"], entry.data["material_a"]), 0.95)
    assert result.estimate == entry.expected("computed", "estimate")
    assert [result.low, result.high] == entry.expected("computed", "interval")
    assert result.level == entry.expected("computed", "achieved_level")
