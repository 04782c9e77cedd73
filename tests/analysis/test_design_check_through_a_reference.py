"""Design checks through a reference: two trials, two days, and what may have happened in between."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from scipy import stats

from reports.checks.view import rule
from tests.analysis.made_checks import made, one
from tests.analysis.made_trials import made_trial, noisy_scores, rows_of, trial_of_rows


def check_of(document):
    (check,) = document["checks"]
    return check


def through(checked, now, then, **more):
    """The element `new` of one trial against `old` of another, by the reference r."""
    return checked([then, now], one("old"), [one("new", 1)], reference="r", **more)


def differences(trial, element):
    """Element less reference, round by round, from the readings themselves."""
    runs = {}
    for row in trial.rows:
        runs.setdefault((row["element"], row["round"]), []).append(row["value"])
    rounds = sorted({number for _, number in runs})
    return np.array([np.mean(runs[element, number]) - np.mean(runs["r", number]) for number in rounds])


def test_from_six_rounds_on_as_scipys_welch_test_has_it(checked):
    now, then = made({"r": 20.0, "new": 19.8}, seed=2, rounds=6), made({"r": 24.0, "old": 24.1}, rounds=9)
    document = through(checked, now, then)
    check = check_of(document)
    reference = stats.ttest_ind(differences(now, "new"), differences(then, "old"), equal_var=False)
    ends = reference.confidence_interval(0.90)
    assert (check["limits"]["low"], check["limits"]["high"]) == pytest.approx((ends.low, ends.high), rel=1e-9)
    assert check["method"] == "Welch, through the reference"
    assert (check["outcome"], check["rounds"], check["baseline_rounds"]) == ("holds", 6, 9)
    assert "does not share" in document["not_seen"][0]
    assert "passes in at most 5 of 100 such checks, all candidates taken together." in rule(document)
    assert [caution["code"] for caution in document["cautions"]].count("safety") == 1
    assert "unplanned-looks" not in {caution["code"] for caution in document["cautions"]}


@pytest.mark.parametrize(("today", "before"), [(5, 9), (8, 4)])
def test_with_fewer_rounds_on_either_day_each_noise_has_its_own_quantile(checked, today, before):
    now = made({"r": 20.0, "new": 19.8}, seed=2, rounds=today)
    then = made({"r": 24.0, "old": 24.1}, rounds=before)
    check = check_of(through(checked, now, then))
    parts = [differences(now, "new"), differences(then, "old")]
    squares = [part.var(ddof=1) / len(part) * stats.t.isf(0.05, len(part) - 1) ** 2 for part in parts]
    assert check["difference"] - check["limits"]["low"] == pytest.approx(np.sqrt(sum(squares)), rel=1e-9)
    assert check["method"] == "Banerjee, through the reference"


def test_asked_at_another_round_than_planned_it_says_so(checked):
    document = through(checked, made({"r": 20.0, "new": 20.0}), made({"r": 20.0, "old": 20.0}))
    (caution,) = [one for one in document["cautions"] if one["code"] == "unplanned-looks"]
    assert (caution["severity"], caution["trial"]) == ("note", None)
    assert "this one is at 8" in caution["message"]


def test_the_same_element_then_and_now_is_allowed(checked):
    trials = [made({"r": 20.0, "whip": 20.0}), made({"r": 21.0, "whip": 17.0}, seed=2)]
    (check,) = checked(trials, one("whip"), [one("whip", 1)], reference="r")["checks"]
    assert check["outcome"] == "falls short"


def test_where_no_more_rounds_of_today_would_do_it_says_so_and_what_would(checked):
    then = made({"r": 20.0, "old": 20.0}, rounds=3)
    check = check_of(through(checked, made({"r": 20.0, "new": 19.1}), then))
    assert (check["outcome"], check["more_rounds"]) == ("needs more runs", None)
    assert "More rounds of new will hardly settle it, since those of old stay as" in check["statement"]
    few = check_of(through(checked, made({"r": 20.0, "new": 19.4}, rounds=3), made({"r": 20.0, "old": 20.0})))
    assert few["more_rounds"] > 0
    assert f"About {few['more_rounds']} more round" in few["statement"]
    assert "hardly" not in few["statement"]


def test_signals_of_one_trial_only_are_left_out_and_listed(checked):
    then = made_trial(noisy_scores({"r": 20.0, "old": 20.0}, rounds=6, sd=0.2), margin=1.0, signals=5)
    document = checked([then, made({"r": 20.0, "new": 20.0})], one("old"), [one("new", 1)], reference="r")
    assert document["rf_channels"]["used"] == ["21", "22", "23", "24"]
    (left,) = document["rf_channels"]["left_out"]
    assert (left["rf_channel"], left["trial"]) == ("25", 0)


def test_a_shared_element_that_moved_against_the_reference_stops_everything(checked):
    then = made({"r": 20.0, "other": 20.0, "old": 20.0})
    moved = made({"r": 20.0, "other": 22.0, "new": 20.0}, seed=2)
    document = checked([then, moved], one("old"), [one("new", 1)], reference="r")
    (stop,) = [caution for caution in document["cautions"] if caution["severity"] == "stop"]
    assert (stop["code"], stop["candidates"]) == ("reference-changed", ["new"])
    assert "apart: other by 1.92 dB against r" in stop["message"]
    assert document["outcome"] == "needs more runs"
    assert document["checks"][0]["reasons"][0]["evidence"]["otherwise"] == "holds"
    still = made({"r": 20.0, "other": 20.0, "new": 20.0}, seed=2)
    assert checked([then, still], one("old"), [one("new", 1)], reference="r")["outcome"] == "holds"


def test_trials_without_a_signal_in_common_say_so(checked):
    """It is not that no round held both: each trial has eight of those."""
    scores = noisy_scores({"r": 20.0, "old": 20.0}, rounds=8, sd=0.2)
    elsewhere = [row | {"rf_channel": f"4{row['rf_channel']}"} for row in rows_of(scores)]
    then = trial_of_rows(elsewhere, margin=1.0)
    document = through(checked, made({"r": 20.0, "new": 20.0}), then)
    check = check_of(document)
    assert [reason["code"] for reason in check["reasons"]] == ["no-shared-signal"]
    assert (check["outcome"], check["limits"]["low"], check["more_rounds"]) == ("needs more runs", None, None)
    assert "No signal gives a level in both trials" in check["statement"]
    assert "round" not in check["statement"]
    assert document["rf_channels"]["used"] == []
    assert {left["trial"] for left in document["rf_channels"]["left_out"]} == {0, 1}


def test_a_trial_whose_readings_all_lie_at_the_end_gives_no_level(checked):
    meter = {"unit": "bars", "highest": 10}
    full = [row | {"value": 10.0} for row in rows_of({"r": [5.0] * 7, "old": [5.0] * 7})]
    now = made_trial(noisy_scores({"r": 5.0, "new": 5.0}, rounds=7, sd=0.1), margin=1.0, meter=meter)
    check = check_of(through(checked, now, trial_of_rows(full, margin=1.0, meter=meter)))
    assert [reason["code"] for reason in check["reasons"]] == ["no-level"]


def apart(means, *, missing):
    """A trial of eight rounds in which `missing` sat out every round that holds the reference."""
    scores = noisy_scores(means | {"third": 20.0}, rounds=8, sd=0.2)
    scores["r"] = [value if number % 2 else None for number, value in enumerate(scores["r"])]
    scores[missing] = [None if number % 2 else value for number, value in enumerate(scores[missing])]
    return made_trial(scores, margin=1.0)


def test_no_round_with_the_reference_is_told_as_what_keeps_the_limits_away(checked):
    now = apart({"r": 20.0, "new": 20.0}, missing="new")
    check = check_of(through(checked, now, made({"r": 20.0, "old": 20.0})))
    (reason,) = check["reasons"]
    assert reason["code"] == "no-round-with-reference"
    assert reason["evidence"] == {
        "reference": "r", "apart": [{"element": "new", "trial": 1}], "fewest_rounds": 3
    }  # fmt: skip
    assert (check["rounds"], check["baseline_rounds"], check["difference"]) == (0, 8, None)
    assert "There are no limits yet, because no round holds r together with new." in check["statement"]
    assert "at least 3 rounds that hold both" in check["statement"]


def test_no_round_with_the_reference_on_either_day_names_both(checked):
    now, then = (apart({"r": 20.0, name: 20.0}, missing=name) for name in ("new", "old"))
    check = check_of(through(checked, now, then))
    assert [one["trial"] for one in check["reasons"][0]["evidence"]["apart"]] == [1, 0]
    assert "no round holds r together with new or with old" in check["statement"]


def test_too_few_rounds_with_the_reference_tell_how_many_are_wanted(checked):
    check = check_of(
        through(checked, made({"r": 20.0, "new": 20.0}, rounds=2), made({"r": 20.0, "old": 20.0}))
    )
    (reason,) = check["reasons"]
    assert reason == {
        "code": "no-limits-yet", "evidence": {"rounds": 2, "baseline_rounds": 8, "fewest_rounds": 3}
    }  # fmt: skip
    assert "at least 3 rounds with the reference" in check["statement"]


def test_struck_runs_of_either_day_are_put_back_beside(checked):
    struck = [{"element": "new", "round": 8, "reason": "knocked"}]
    scores = noisy_scores({"r": 20.0, "new": 20.0}, rounds=8, sd=0.2)
    scores["new"][7] -= 30.0
    now = made_trial(scores, margin=1.0, struck=struck)
    check = check_of(through(checked, now, made({"r": 20.0, "old": 20.0})))
    assert (check["outcome"], check["with_struck"], check["rounds"]) == ("holds", "needs more runs", 7)
    assert "put back it would say: needs more runs" in check["statement"]


START = datetime(2025, 3, 1, 9, tzinfo=UTC)


def dated(means, *, after_days, times=True):
    """A trial whose eight rounds are an hour apart, the first so many days after the start."""
    scores = noisy_scores(means, rounds=8, sd=0.2)
    begun = START + timedelta(days=after_days)
    rows = [
        row | ({"at": begun + timedelta(hours=row["round"] - 1)} if times else {}) for row in rows_of(scores)
    ]
    return trial_of_rows(rows, margin=1.0)


def old_baseline(checked, wait, **now):
    trials = [
        dated({"r": 20.0, "old": 20.0}, after_days=0),
        dated({"r": 20.0, "new": 20.0}, after_days=wait, **now),
    ]
    document = checked(trials, one("old"), [one("new", 1)], reference="r")
    return document, [caution for caution in document["cautions"] if caution["code"] == "baseline-old"]


def test_a_baseline_of_more_than_half_a_year_ago_is_a_warning_that_stops_nothing(checked):
    """The last reading of the baseline is of 16:00 on 1 March, the first of the candidate of 09:00."""
    document, (caution,) = old_baseline(checked, 181)
    assert (caution["severity"], caution["trial"], caution["candidates"]) == ("warning", 1, [])
    assert caution["evidence"] == {
        "days": pytest.approx(181 - 7 / 24), "bound_days": 180, "baseline": "old",
        "baseline_last_at": "2025-03-01T16:00:00Z", "candidate": "new",
        "candidate_first_at": "2025-08-29T09:00:00Z", "reference": "r",
    }  # fmt: skip
    assert "the first of new (29 August 2025) lie 181 days, more than 180" in caution["message"]
    assert document["outcome"] == "holds"


@pytest.mark.parametrize("wait", [180, 0, -400])
def test_half_a_year_overlap_and_the_other_order_are_no_old_baseline(checked, wait):
    assert old_baseline(checked, wait)[1] == []


def test_without_times_nobody_can_tell_how_old_it_is(checked):
    assert old_baseline(checked, 400, times=False)[1] == []


def test_a_stop_of_either_trial_that_touches_its_element_and_the_reference_stops_the_check(checked):
    """The spare copy of the candidate differs in today's trial; then nothing of the candidate can be told."""
    means = {"r": 20.0, "new": 20.0, "spare": 17.0}
    now = made(means, elements=[{"id": "spare", "twin_of": "new"}])
    document = through(checked, now, made({"r": 20.0, "old": 20.0}))
    stops = [caution for caution in document["cautions"] if caution["severity"] == "stop"]
    check = check_of(document)
    assert [(stop["code"], stop["trial"], stop["candidates"]) for stop in stops] == [
        ("twin-differs", 1, ["new"])
    ]
    assert check["reasons"][0]["evidence"] == {"cautions": ["twin-differs"], "otherwise": "holds"}
    assert (check["outcome"], check["more_rounds"]) == ("needs more runs", None)
