"""The sign test against Hollander and Wolfe's data, and as McNemar's exact test against printed tables."""

import numpy as np

from service.statistics.sign_test import sign_test


def test_depression_scores_as_printed(check_value):
    entry = check_value("sign-test-depression")
    result = sign_test(np.subtract(entry.data["first"], entry.data["second"]))
    assert result.p_value == entry.expected("published", "p_two_sided")
    assert result.p_value == entry.expected("computed", "p_two_sided")
    assert result.p_value / 2 == entry.expected("computed", "p_greater")
    counts = [entry.expected("computed", name) for name in ("positive", "negative", "ties")]
    assert [result.positive, result.negative, result.ties] == counts


def test_mcnemar_on_discordant_pairs(check_value):
    entry = check_value("mcnemar-exact")
    p_values = [
        sign_test([1] * first + [-1] * second).p_value
        for first, second in zip(entry.data["only_first"], entry.data["only_second"], strict=True)
    ]
    assert p_values == entry.expected("published", "p")
    assert p_values == entry.expected("computed", "p")
