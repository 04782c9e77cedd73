"""Design checks in one trial: outcome, limits and reasons; what cannot be asked; the document whole."""

from itertools import combinations

import numpy as np
import pytest
from scipy import stats

from service.analysis.design_check import Design
from service.errors import BadInput
from tests.analysis.made_checks import made, one
from tests.analysis.made_trials import made_trial, trial_of_rows


@pytest.mark.parametrize(
    "case",
    [
        (0.1, 8, "holds", 0),
        (3.0, 8, "falls short", 0),
        (1.0, 8, "needs more runs", None),
        (0, 5, "needs more runs", 1),
    ],
)
def test_in_one_trial_each_outcome_can_be_reached(checked, case):
    worse, rounds, outcome, more = case
    (check,) = checked([made({"a": 20.0, "b": 20.0 - worse}, rounds=rounds)], one("a"), [one("b")])["checks"]
    assert check["outcome"] == outcome
    assert (check["more_rounds"] == more) or more is None
    assert (check["decided_at_round"] is None) == (outcome == "needs more runs")
    assert check["rounds"] == rounds
    assert check["limits"]["level"] == pytest.approx(0.95)


def test_the_limits_are_those_of_the_round_differences(checked):
    """At 2 alpha = 0.1 two steps are allowed at round 6: floor(0.8 x 0.1 x 2^6 / 2)."""
    scores = {"a": [20.0, 21, 20, 22, 20, 21], "b": [20.1, 20.8, 20.3, 22.2, 19.7, 21.4]}
    (check,) = checked([made_trial(scores, margin=1.0)], one("a"), [one("b")])["checks"]
    differences = np.subtract(scores["b"], scores["a"])
    assert check["difference"] == pytest.approx(differences.mean())
    means = sorted(np.mean(part) for size in range(1, 7) for part in combinations(differences, size))
    assert check["limits"]["low"] == pytest.approx(means[1])
    assert check["limits"]["high"] == pytest.approx(means[-2])
    reference = stats.permutation_test(
        (differences + 1.0,), np.mean, permutation_type="samples", alternative="greater", n_resamples=np.inf
    )
    assert check["p_value"] == pytest.approx(reference.pvalue)


def test_one_round_and_no_signal_give_a_document(checked):
    (check,) = checked([made({"a": 20.0, "b": 20.0}, rounds=1)], one("a"), [one("b")])["checks"]
    assert check["limits"] == {"low": None, "high": None, "level": 0.95}
    full = made_trial({"a": [10.0] * 7, "b": [10.0] * 7}, signals=1, meter={"unit": "bars", "highest": 10})
    rows = [row | {"value": 10.0} for row in full.rows]

    flat = trial_of_rows(rows, meter={"unit": "bars", "highest": 10})
    (check,) = checked([flat], one("a"), [one("b")])["checks"]
    assert [reason["code"] for reason in check["reasons"]] == ["no-level"]


def test_several_candidates_share_the_error_by_holms_steps(checked):
    trial = made({"a": 20.0, "b": 20.0, "c": 19.9, "d": 16.0}, rounds=10)
    document = checked([trial], one("a"), [one("b"), one("c"), one("d")])
    assert [check["outcome"] for check in document["checks"]] == ["holds", "holds", "falls short"]
    assert document["outcome"] == "falls short"
    assert document["method"]["steps"] == pytest.approx([0.05 / 3, 0.05 / 2, 0.05])
    assert {check["limits"]["level"] for check in document["checks"]} == {1 - document["method"]["alpha"] / 3}


def test_samples_of_a_batch_bring_their_own_spread(checked):
    means = {"a": 20.0, "b1": 20.2, "b2": 19.8, "b3": 20.0, "b4": 20.1}
    (check,) = checked([made(means)], one("a"), [Design(("b1", "b2", "b3", "b4"))])["checks"]
    assert (check["outcome"], check["method"]) == ("holds", "Banerjee, over samples")
    wide = {"a": 20.0, "b1": 22.0, "b2": 18.0, "b3": 20.0, "b4": 20.1}
    (check,) = checked([made(wide)], one("a"), [Design(("b1", "b2", "b3", "b4"))])["checks"]
    assert check["outcome"] == "needs more runs"
    (check,) = checked([made(means)], one("a"), [Design(("b1", "b2"))])["checks"]
    assert check["limits"]["low"] is None


def test_a_stop_of_the_trial_that_touches_the_pair_stops_the_check(checked):
    means = {"a": 20.0, "b": 20.0, "spare": 17.0}
    elements = [{"id": "spare", "twin_of": "a"}]
    document = checked([made(means, elements=elements)], one("a"), [one("b")])
    (check,) = document["checks"]
    assert (check["outcome"], check["more_rounds"], check["decided_at_round"]) == (
        "needs more runs",
        None,
        None,
    )
    assert check["reasons"][0]["code"] == "stopped"
    assert "twin-differs" in check["reasons"][0]["evidence"]["cautions"]


def test_cautions_about_other_elements_are_not_told(checked):
    means = {"a": 20.0, "b": 20.0, "c": 20.0}
    elements = [{"id": "c", "gauge": {"table": None, "number": 13}}]
    codes = [c["code"] for c in checked([made(means, elements=elements)], one("a"), [one("b")])["cautions"]]
    assert "gauge-table-unknown" not in codes
    assert "safety" in codes


def test_reception_is_a_criterion_of_its_own(checked):

    rows = made({"a": 20.0, "b": 20.0}).rows
    gone = [
        row
        | (
            {"value": None, "received": False}
            if (row["element"], row["channel"], row["round"]) == ("b", "s1", 4)
            else {}
        )
        for row in rows
    ]
    (check,) = checked([trial_of_rows(gone, margin=1.0)], one("a"), [one("b")])["checks"]
    assert check["outcome"] == "holds"
    assert (check["reception"]["outcome"], check["reception"]["lost"]) == ("falls short", ["22"])
    assert check["reception"]["lost_runs"] == [{"rf_channel": "22", "received_runs": 7, "scanned_runs": 8}]


def test_struck_runs_are_put_back_beside(checked):
    scores = {"a": [20.0] * 9, "b": [20.1, 19.9, 20.2, 20.0, 19.8, 20.1, 20.0, 19.9, 8.0]}
    struck = [{"element": "b", "round": 9, "reason": "knocked"}]
    (check,) = checked([made_trial(scores, margin=1.0, struck=struck)], one("a"), [one("b")])["checks"]
    assert (check["outcome"], check["with_struck"], check["rounds"]) == ("holds", "holds", 8)


@pytest.mark.parametrize(
    "case",
    [
        (one("zz"), [one("b")], {}, "#/candidates", "there are a, b, r"),
        (one("a"), [one("a")], {}, "#/candidates", "named already"),
        (one("a"), [one("b"), one("b")], {}, "#/candidates", "named already"),
        (one("a"), [one("b"), one("new", 1)], {"reference": "r"}, "#/candidates", "two checks"),
        (one("a"), [one("new", 1)], {}, "#/reference", "both hold: r"),
        (one("a"), [one("new", 1)], {"reference": "b"}, "#/reference", "not in every trial"),
        (one("a"), [one("r", 1)], {"reference": "r"}, "#/reference", "another element"),
        (one("a"), [Design(("new", "r"), 1)], {"reference": "r"}, "#/candidates", "within one trial"),
        (one("a"), [one("bars", 2)], {"reference": "r"}, "#/candidates", "unit is bars here and dB"),
        (one("a"), [one("new", 3)], {"reference": "r"}, "#/margin", "0.5, 1"),
    ],
)
def test_what_cannot_be_asked_is_refused_with_the_place(checked, case):
    baseline, candidates, more, place, said = case
    trials = [
        made({"a": 20.0, "b": 20.0, "r": 20.0}),
        made({"new": 20.0, "r": 20.0}),
        made({"bars": 5.0, "r": 5.0}, meter={"unit": "bars"}),
        made({"new": 20.0, "r": 20.0}, margin=0.5),
    ]
    with pytest.raises(BadInput) as refused:
        checked(trials, baseline, candidates, **more)
    assert any(fault.pointer == place and said in fault.detail for fault in refused.value.faults), [
        (fault.pointer, fault.detail) for fault in refused.value.faults
    ]


def test_no_round_with_both_says_so(checked):
    scores = {"a": [20.0, 20.1, None, None], "b": [None, None, 20.2, 19.9], "c": [20.0, 20.1, 19.9, 20.0]}
    (check,) = checked([made_trial(scores, margin=1.0)], one("a"), [one("b")])["checks"]
    assert check["reasons"] == [{"code": "no-shared-round", "evidence": {}}]
    assert (check["rounds"], check["more_rounds"]) == (0, None)
    assert "No round holds a run of each." in check["statement"]


def test_a_stop_that_leaves_the_pair_standing_is_not_told(checked):
    """The spare copy of b reads 3 dB apart from it; that a is 12 dB better than b stands all the same."""
    means = {"a": 20.0, "b": 8.0, "spare": 5.0}
    document = checked([made(means, elements=[{"id": "spare", "twin_of": "b"}])], one("a"), [one("b")])
    assert "twin-differs" not in {caution["code"] for caution in document["cautions"]}
    assert document["outcome"] == "falls short"


def test_beside_a_design_of_samples_a_single_one_has_its_own_share(checked):
    means = {"a": 20.0, "single": 20.0, "b1": 20.0, "b2": 20.1, "b3": 19.9}
    document = checked([made(means)], one("a"), [one("single"), Design(("b1", "b2", "b3"))])
    assert [check["method"] for check in document["checks"]] == ["sign-flip", "Banerjee, over samples"]
    assert document["method"]["steps"] == pytest.approx([0.025, 0.025])
    assert document["method"]["several"] == "equal shares"
    assert [check["limits"]["level"] for check in document["checks"]] == pytest.approx([0.975, 0.975])
