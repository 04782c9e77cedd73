"""One round and a known repeatability, and the repeatability that a document tells."""

import numpy as np
import pytest
from scipy.stats import studentized_range
from scipy.stats import t as student

from service.analysis import analyse
from service.errors import BadInput
from tests.analysis.made_trials import Row, made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import codes, evidence, reasons

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


def test_why_a_known_one_was_not_used_is_a_reason(analysed):
    short = made_trial({"a": [10.0], "b": [7.0]}, known_repeatability=KNOWN | {"degrees_of_freedom": 8})
    reason = analysed(short)["verdict"]["reasons"][-1]
    assert reason["code"] == "known-noise-too-short"
    assert reason["evidence"] == {"given": 8, "repeated": 0, "needed": 9}
    enough = analysed(made_trial({"a": [10.0], "b": [7.0]}, known_repeatability=KNOWN))
    assert "known-noise-too-short" not in reasons(enough)
    assert "known-noise-too-short" not in reasons(analysed(made_trial({"a": [10.0], "b": [7.0]})))


def test_repeats_that_are_too_few_are_counted_with_the_known_ones(analysed):
    rows = remounted({"a": [10.0, 10.2], "b": [5.0, 5.4]})
    document = analysed(trial_of_rows(rows, known_repeatability=KNOWN | {"degrees_of_freedom": 6}))
    assert document["verdict"]["reasons"][-1]["evidence"] == {"given": 6, "repeated": 2, "needed": 9}


def test_from_three_rounds_on_nobody_asks_for_a_known_one(analysed):
    scores = noisy_scores({"a": 10.0, "b": 9.9, "c": 9.8}, rounds=3, sd=0.3)
    document = analysed(made_trial(scores, known_repeatability=KNOWN | {"degrees_of_freedom": 5}))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert "known-noise-too-short" not in reasons(document)


def test_the_look_by_a_known_noise_stands_in_the_schedule(analysed):
    looks = analysed(made_trial({"a": [10.0], "b": [7.0], "c": [6.9]}, known_repeatability=KNOWN))["looks"]
    first = looks["schedule"][0]
    assert (looks["this"], first["round"], first["rounds"]) == (1, 1, 1)
    assert (first["spent"], first["level"]) == (pytest.approx(0.025), pytest.approx(0.025))
    # contract of the look: studentised range over root two, and Student's t at 1 - alpha / 4
    assert first["critical"] == pytest.approx(studentized_range.ppf(0.975, 3, 9) / 2**0.5)
    assert first["leader_critical"] == pytest.approx(student.ppf(1 - 0.05 / 4, 9))


def test_a_verdict_is_possible_at_once_where_the_noise_is_known(analysed):
    document = analysed(made_trial({"a": [10.0], "b": [9.9]}, known_repeatability=KNOWN))
    assert document["verdict"]["fewest_rounds"] == 1
    assert reasons(document) == ["not-told-apart"]
    assert document["one_scan"]["known_sd"] == pytest.approx(0.2)
    assert document["one_scan"]["remount_test"] is None
    unknown = analysed(made_trial({"a": [10.0], "b": [9.9]}))
    assert unknown["verdict"]["fewest_rounds"] == 6
    assert unknown["one_scan"]["known_sd"] is None


def several_mountings(mountings: int, *, rounds: int = 40, sd: float = 0.3) -> list[Row]:
    """Three elements with so many mountings a round, each with bell-shaped noise of its own."""
    stream = np.random.RandomState(3)
    scores = {
        name: (mean + sd * stream.normal(size=(rounds, mountings)))
        for name, mean in zip("abc", (5, 6, 7), strict=True)
    }
    return [
        row | {"round": 1 + (row["round"] - 1) // mountings, "mounting": f"m{row['round']}"}
        for row in rows_of({name: values.ravel().tolist() for name, values in scores.items()})
    ]


@pytest.mark.parametrize("mountings", [1, 2, 4])
def test_repeatability_is_that_of_one_mounting_however_many_make_a_run(analysed, mountings):
    document = analysed(trial_of_rows(several_mountings(mountings)))
    told = document["repeatability"]
    # mountings less elements and rounds: the design's own count
    assert told["degrees_of_freedom"] == 3 * 40 * mountings - (3 + 40 - 1)
    assert told["sd"] == pytest.approx(0.3, rel=0.15)
    assert told["limit"] == pytest.approx(2.8 * told["sd"])


def test_the_margin_is_held_against_runs_and_not_against_single_mountings(analysed):
    rows = several_mountings(4)  # runs have an sd of 0.15, so a margin of 0.4 is within reach
    document = analysed(trial_of_rows(rows, margin=0.4))
    assert document["repeatability"]["sd"] > 0.2
    assert "margin-below-repeatability" not in codes(document)
    told = evidence(analysed(trial_of_rows(rows, margin=0.2)), "margin-below-repeatability")
    assert told["sd"] == pytest.approx(0.15, rel=0.15)


def test_repeats_of_an_element_that_is_not_judged_tell_no_noise(analysed):
    """Two elements that share no round: the one judged was mounted once."""
    rows = rows_of({"a": [5.0, None], "b": [None, 4.0]})
    again = [row | {"mounting": "again"} for row in rows if row["element"] == "b"]
    once = [row | {"mounting": "once"} for row in rows]
    document = analysed(trial_of_rows(once + again))
    assert document["repeatability"]["sd"] is None
    assert [element["standing"] for element in document["elements"]] == ["leads", None]
