"""One round and a known repeatability, and the repeatability that a document tells."""

import numpy as np
import pytest

from service.analysis import analyse
from service.errors import BadInput
from tests.analysis.made_trials import Row, made_trial, noisy_scores, rows_of, trial_of_rows

KNOWN = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["21", "22", "23", "24"], "from": "ten remounts"}


def remounted(scores: dict[str, list[float]]) -> list[Row]:
    """Several mountings of each element in round 1, told by their labels."""
    return [row | {"round": 1, "mounting": f"m{row['round']}"} for row in rows_of(scores)]


def test_a_large_difference_is_settled_after_one_round(analysed):
    document = analysed(made_trial({"a": [10.0], "b": [7.0], "c": [6.9]}, known_repeatability=KNOWN))
    assert document["method"]["design"] == "one round, known noise"
    assert (document["verdict"]["outcome"], document["verdict"]["winner"]) == ("clear winner", "a")
    assert document["verdict"]["decided_at_round"] == 1
    assert document["pairs"][0]["interval"]["method"] == "known repeatability"
    assert document["repeatability"] == {
        "sd": pytest.approx(0.2),
        "limit": pytest.approx(0.56),
        "degrees_of_freedom": 9.0,
        "icc": None,
        "from": "known",
    }


def test_repeats_in_this_trial_do_the_same(analysed):
    scores = noisy_scores({"a": 20.0, "b": 10.0}, rounds=8, sd=0.1)
    document = analysed(trial_of_rows(remounted(scores)))
    assert document["method"]["design"] == "one round, known noise"
    assert document["verdict"]["winner"] == "a"
    assert (document["repeatability"]["degrees_of_freedom"], document["repeatability"]["from"]) == (
        14,
        "this trial",
    )


def test_both_are_pooled(analysed):
    scores = noisy_scores({"a": 20.0, "b": 10.0}, rounds=3, sd=0.1)
    document = analysed(trial_of_rows(remounted(scores), known_repeatability=KNOWN))
    assert document["repeatability"]["from"] == "both"
    assert (
        document["repeatability"]["degrees_of_freedom"] == 13
    )  # 9 and two mountings beyond the first of each


def test_two_rounds_add_what_they_tell_themselves(analysed):
    document = analysed(made_trial({"a": [10.0, 10.3], "b": [7.0, 7.0]}, known_repeatability=KNOWN))
    assert document["method"]["design"] == "one round, known noise"
    told = document["repeatability"]
    # residuals of two elements in two rounds: 0.075 four times; one degree of freedom beside the known nine
    assert told["sd"] == pytest.approx(((9 * 0.2**2 + 4 * 0.075**2) / 10) ** 0.5)
    assert (told["degrees_of_freedom"], told["from"]) == (10, "both")


def test_a_remount_study_of_one_element_tells_its_repeatability(analysed):
    scores = noisy_scores({"a": 20.0}, rounds=10, sd=0.1)
    told = analysed(trial_of_rows(remounted(scores)))["repeatability"]
    assert told["sd"] == pytest.approx(np.std(scores["a"], ddof=1))
    assert (told["degrees_of_freedom"], told["from"]) == (9, "this trial")


def test_other_rf_channels_than_those_used_are_refused(store):
    known = KNOWN | {"rf_channels": ["21", "22"]}
    made = made_trial({"a": [10.0], "b": [7.0]}, known_repeatability=known)
    with pytest.raises(BadInput) as refused:
        analyse(made.trial, made.readings, store=store)
    fault = refused.value.faults[0]
    assert fault.pointer == "#/trial/known_repeatability/rf_channels"
    assert fault.given == "21, 22"
    assert "21, 22, 23, 24" in fault.detail


def test_where_no_level_is_left_the_known_one_is_not_refused(analysed):
    rows = [row | {"value": None} for row in rows_of({"a": [1.0], "b": [2.0]})]
    document = analysed(trial_of_rows(rows, known_repeatability=KNOWN))
    assert document["verdict"]["reasons"][0]["code"] == "no-level"


def test_a_known_one_that_is_too_short_is_told_and_not_used(analysed):
    known = KNOWN | {"degrees_of_freedom": 5}
    document = analysed(made_trial({"a": [10.0], "b": [7.0]}, known_repeatability=known))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert (document["repeatability"]["sd"], document["repeatability"]["from"]) == (0.2, "known")


def test_a_few_repeats_tell_the_repeatability_and_settle_nothing(analysed):
    scores = {"a": [10.0, 10.2], "b": [5.0, 5.4]}
    document = analysed(trial_of_rows(remounted(scores)))
    assert document["verdict"]["outcome"] == "needs more runs"
    # squares about the means of the two runs: 0.02 and 0.08, two degrees of freedom
    assert document["repeatability"]["sd"] == pytest.approx((0.10 / 2) ** 0.5)
    assert document["repeatability"]["degrees_of_freedom"] == 2


def test_over_rounds_the_trial_tells_its_own(analysed):
    scores = noisy_scores({"a": 10.0, "b": 9.0, "c": 8.0}, rounds=6, sd=0.3)
    document = analysed(made_trial(scores, known_repeatability=KNOWN))
    assert document["method"]["design"] == "rounds"
    assert document["repeatability"]["from"] == "this trial"
    assert document["repeatability"]["degrees_of_freedom"] == 10
    assert 0.15 < document["repeatability"]["sd"] < 0.5
