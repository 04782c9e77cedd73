"""The matched-pairs rank-biserial correlation by Kerby's formula."""

import numpy as np

from service.statistics.signed_rank import signed_rank


def test_depression_scores(check_value):
    entry = check_value("rank-biserial")
    data = entry.data["signed-rank-depression"]
    result = signed_rank(np.subtract(data["first"], data["second"]))
    assert result.rank_biserial == entry.expected("computed", "depression")


def test_the_divisor_is_the_sum_of_the_ranks_used(check_value):
    entry = check_value("rank-biserial")
    data = entry.data["signed-rank-twins-zero-ties"]
    values = np.subtract(data["second_born"], data["first_born"])
    assert signed_rank(values).rank_biserial == entry.expected("computed", "twins_pratt_ranks")
    dropped = signed_rank(values[values != 0]).rank_biserial
    assert dropped == entry.expected("computed", "twins_zeros_dropped")
