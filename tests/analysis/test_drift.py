"""The trend over the trial: of what, over what, and when there is none."""

import numpy as np
import pytest
from scipy.stats import linregress

from tests.analysis.made_trials import Row, made_trial, noisy_scores, rows_of, trial_of_rows

MEANS = {"a": 20.0, "b": 18.0, "c": 17.9}
SCORES = noisy_scores(MEANS, rounds=6, sd=0.2)
MINUTES = [0, 40, 75, 120, 180, 300]


def timed(scores, minutes=MINUTES) -> list[Row]:
    """Every run of a round begins some minutes after the one before and takes two."""
    return [
        row | {"at": f"2025-05-10T{8 + at // 60:02}:{at % 60:02}:00Z"}
        for row in rows_of(scores)
        for at in [
            minutes[row["round"] - 1] + 5 * list(scores).index(row["element"]) + (row["channel"] > "s1")
        ]
    ]


def test_the_reference_by_the_hour(analysed):
    drift = analysed(trial_of_rows(timed(SCORES), reference="b"))["drift"]
    other = linregress(np.array(MINUTES) / 60, SCORES["b"])
    assert (drift["of"], drift["element"], drift["runs"]) == ("reference", "b", 6)
    assert drift["slope_per_hour"] == pytest.approx(other.slope, rel=1e-9)
    assert drift["slope_per_run"] is None
    assert drift["p_value"] == pytest.approx(other.pvalue, rel=1e-9)
    assert drift["over_trial"] == pytest.approx(5 * other.slope, rel=1e-9)
    assert drift["interval"]["low"] < other.slope < drift["interval"]["high"]
    assert drift["interval"]["level"] == 0.95


def test_the_reference_by_the_run_where_a_run_of_it_has_no_time(analysed):
    rows = timed(SCORES)
    for row in rows:
        if (row["element"], row["round"]) == ("b", 4):
            row.pop("at")
    drift = analysed(trial_of_rows(rows, reference="b"))["drift"]
    assert drift["slope_per_hour"] is None
    assert drift["slope_per_run"] == pytest.approx(linregress(range(6), SCORES["b"]).slope, rel=1e-9)
    assert drift["over_trial"] == pytest.approx(5 * drift["slope_per_run"])
    others = analysed(trial_of_rows(rows, reference="a"))["drift"]
    assert others["slope_per_hour"] is not None


def test_without_a_reference_all_elements_together(analysed):
    drift = analysed(made_trial(SCORES))["drift"]
    levels = np.mean(list(SCORES.values()), axis=0)
    assert (drift["of"], drift["element"], drift["runs"]) == ("all elements", None, 6)
    assert drift["slope_per_run"] == pytest.approx(linregress(range(6), levels).slope, rel=1e-9)


def test_a_missing_run_of_a_strong_element_is_no_drift(analysed):
    scores = {name: list(runs) for name, runs in SCORES.items()}
    scores["a"][5] = None
    without = analysed(made_trial(scores))["drift"]["over_trial"]
    assert without == pytest.approx(analysed(made_trial(SCORES))["drift"]["over_trial"], abs=0.3)


def test_times_that_are_all_one_tell_nothing(analysed):
    rows = [row | {"at": "2025-05-10T08:00:00Z"} for row in rows_of(SCORES)]
    assert analysed(trial_of_rows(rows))["drift"]["slope_per_run"] is not None


def test_one_element_drifts_by_itself(analysed):
    drift = analysed(made_trial({"a": [5.0, 5.2, 5.3, 5.6]}))["drift"]
    assert drift["slope_per_run"] == pytest.approx(linregress(range(4), [5.0, 5.2, 5.3, 5.6]).slope)


@pytest.mark.parametrize("reference", [None, "a"])
def test_below_three_runs_there_is_none(analysed, reference):
    two = noisy_scores(MEANS, rounds=2, sd=0.2)
    assert analysed(made_trial(two, reference=reference))["drift"] is None
    three = noisy_scores(MEANS, rounds=3, sd=0.2)
    assert analysed(made_trial(three, reference=reference))["drift"]["runs"] == 3
    three["a"][1] = None
    if reference:
        assert analysed(made_trial(three, reference=reference))["drift"] is None
