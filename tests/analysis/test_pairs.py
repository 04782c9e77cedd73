"""What stands in the table of pairs, beside what the judgement says."""

import numpy as np
import pytest

from service.statistics.signed_rank import signed_rank
from tests.analysis.made_trials import made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import pair

THREE = noisy_scores({"a": 12.0, "b": 8.0, "c": 7.9}, rounds=6, sd=0.2)


def test_each_pair_stands_once_in_the_order_of_elements(analysed):
    document = analysed(made_trial(THREE, elements=[{"id": "c"}, {"id": "a"}]))
    assert [(entry["first"], entry["second"]) for entry in document["pairs"]] == [
        ("a", "b"),
        ("a", "c"),
        ("b", "c"),
    ]


def test_the_order_is_that_of_the_trial_then_of_the_ids(analysed):
    document = analysed(trial_of_rows(rows_of(THREE), elements=[{"id": "c"}]))
    assert [(entry["first"], entry["second"]) for entry in document["pairs"]] == [
        ("c", "a"),
        ("c", "b"),
        ("a", "b"),
    ]


def test_the_difference_is_first_minus_second(analysed):
    entry = pair(analysed(made_trial(THREE)), "a", "b")
    differences = np.array(THREE["a"]) - np.array(THREE["b"])
    assert entry["difference"] == pytest.approx(differences.mean(), abs=1e-9)
    assert entry["interval"]["low"] < entry["difference"] < entry["interval"]["high"]
    assert (entry["outcome"], entry["winner"]) == ("clear winner", "a")
    assert entry["interval"]["method"] == "studentised maximum"
    assert entry["interval"]["level"] == 0.95


def test_two_elements_are_judged_by_sign_flips(analysed):
    scores = {name: THREE[name] for name in "ab"}
    entry = analysed(made_trial(scores))["pairs"][0]
    assert entry["interval"]["method"] == "sign-flip"
    assert entry["p_value"] == entry["adjusted_p_value"] == 2 / 64  # all six differences of one sign


def test_the_tests_beside_are_over_the_rounds_that_both_hold(analysed):
    scores = THREE | {"b": [None, *THREE["b"][1:]]}
    entry = pair(analysed(made_trial(scores)), "b", "c")
    differences = np.array(THREE["b"][1:]) - np.array(THREE["c"][1:])
    ranks = signed_rank(differences)
    assert entry["signed_rank"]["n"] == 5
    assert entry["signed_rank"]["p_value"] == ranks.p_value
    assert entry["rank_biserial"] == ranks.rank_biserial
    assert entry["sign_test"]["positive"] == (differences > 0).sum()
    assert entry["hodges_lehmann"]["estimate"] == pytest.approx(
        np.median([(x + y) / 2 for i, x in enumerate(differences) for y in differences[i:]]), abs=1e-9
    )


def test_the_bootstrap_begins_at_four_rounds_and_three_rf_channels(analysed):
    def drawn(rounds: int, signals: int):
        return analysed(made_trial({name: runs[:rounds] for name, runs in THREE.items()}, signals=signals))

    document = drawn(4, 3)
    told = document["pairs"][0]["bootstrap"]
    assert told["low"] < document["pairs"][0]["difference"] < told["high"]
    assert (told["resamples"], told["method"]) == (9999, "expanded percentile, unadjusted")
    assert (document["method"]["resamples"], document["method"]["no_bootstrap"]) == (9999, None)
    for document, why in ((drawn(3, 3), "fewer than 4 rounds"), (drawn(4, 2), "fewer than 3 RF channels")):
        assert document["pairs"][0]["bootstrap"] is None
        assert (document["method"]["resamples"], document["method"]["no_bootstrap"]) == (0, why)


def test_the_rf_channels_that_favour_each_are_counted(analysed):
    by_signal = {"s0": 1.0, "s1": -1.0, "s2": 2.0, "s3": 0.0}
    rows = [
        {
            "element": name,
            "round": r + 1,
            "channel": channel,
            "rf_channel": channel,
            "value": 10.0 + r + (more if name == "a" else 0.0),
        }
        for name in "ab"
        for r in range(3)
        for channel, more in by_signal.items()
    ]
    rows += [{"element": "a", "round": 1, "channel": "s4", "rf_channel": "s4", "value": 3.0}]
    entry = analysed(trial_of_rows(rows))["pairs"][0]
    assert entry["rf_channels"] == {"favour_first": 2, "favour_second": 1, "ties": 1, "left_out": 1}


def test_all_equal_is_friedmans_test(analysed):
    told = analysed(made_trial({name: runs[:3] for name, runs in THREE.items()}))["all_equal"]
    # a first in every round: Q = 12 / (3 x 3 x 4) (3^2 + S_b^2 + S_c^2) - 36 with S_b + S_c = 15
    above = sum(b > c for b, c in zip(THREE["b"][:3], THREE["c"][:3], strict=True))
    second, third = 6 + (3 - above), 6 + above
    assert told["statistic"] == pytest.approx((9 + second**2 + third**2) / 3 - 36)
    assert (told["name"], told["method"]) == ("friedman", "exact")
    assert told["kendall_w"] == pytest.approx(told["statistic"] / 6)


def test_all_equal_over_the_rounds_that_hold_all(analysed):
    scores = THREE | {"b": [None, *THREE["b"][1:]]}
    whole = analysed(made_trial({name: runs[1:] for name, runs in THREE.items()}))["all_equal"]
    assert analysed(made_trial(scores))["all_equal"]["statistic"] == whole["statistic"]
