"""Trials at the edge: each gives a whole document (checked by the fixture), never an error."""

import pytest

from tests.analysis.made_trials import BARS, Row, made_trial, noisy_scores, trial_of_rows


def bar_rows(value: float, *, elements: str = "abc", rounds: int = 4, channels: int = 5) -> list[Row]:
    """Every reading the same."""
    return [
        {"element": name, "round": r + 1, "channel": f"s{c}", "rf_channel": str(21 + c), "value": value}
        for name in elements
        for r in range(rounds)
        for c in range(channels)
    ]


def codes(document) -> list[str]:
    return [caution["code"] for caution in document["cautions"]]


def reasons(document) -> list[str]:
    return [reason["code"] for reason in document["verdict"]["reasons"]]


def test_one_element_has_nothing_to_be_compared_with(analysed):
    document = analysed(made_trial({"a": [1.0, 1.2, 0.9, 1.1]}))
    assert document["pairs"] == []
    assert document["verdict"]["outcome"] == "needs more runs"
    assert reasons(document) == ["nothing-to-compare"]
    repeatability = document["repeatability"]
    assert repeatability["sd"] == pytest.approx(0.1290994448735806)  # sd of 1, 1.2, 0.9, 1.1 with divisor 3
    assert repeatability["limit"] == pytest.approx(2.8 * 0.1290994448735806)
    assert (repeatability["degrees_of_freedom"], repeatability["from"]) == (3, "this trial")


def test_one_element_in_one_round_has_no_repeatability(analysed):
    document = analysed(made_trial({"a": [1.0]}))
    assert document["repeatability"]["sd"] is None
    assert document["one_scan"]["span"] is None
    assert document["one_scan"]["remount_test"] is None


@pytest.mark.parametrize("rounds", [1, 2])
@pytest.mark.parametrize("names", ["ab", "abc", "abcdefgh"])
def test_below_three_rounds_more_runs_are_needed(analysed, rounds, names):
    means = {name: 10.0 - 3.0 * k for k, name in enumerate(names)}
    document = analysed(made_trial(noisy_scores(means, rounds=rounds, sd=0.1)))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert reasons(document) == ["too-few-rounds"]
    assert {pair["interval"] for pair in document["pairs"]} == {None}
    assert {pair["outcome"] for pair in document["pairs"]} == {"needs more runs"}
    assert document["verdict"]["fewest_rounds"] == (6 if len(names) == 2 else 3)
    assert {entry["place"] for entry in document["elements"]} == {1}
    p_values = {pair["p_value"] for pair in document["pairs"]}
    assert p_values == ({None} if rounds == 1 else {0.5})  # two rounds, both signs equal: 2 of 4 flips


def test_one_rf_channel_is_judged(analysed):
    scores = noisy_scores({"a": 12.0, "b": 8.0, "c": 4.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, signals=1))
    assert document["verdict"]["winner"] == "a"
    assert "one-rf-channel" in codes(document)
    assert {pair["bootstrap"] for pair in document["pairs"]} == {None}
    assert document["method"]["no_bootstrap"] == "fewer than 3 RF channels"


def test_all_equal_at_mid_scale_is_within_noise_where_the_margin_is_wider_than_the_step(analysed):
    document = analysed(trial_of_rows(bar_rows(5), meter=BARS, margin=3.0))
    assert document["verdict"]["outcome"] == "within noise"
    assert "identical-runs" in codes(document)
    for pair in document["pairs"]:
        assert pair["interval"]["low"] < 0 < pair["interval"]["high"]
        assert pair["outcome"] == "within noise"


def test_rounding_of_a_quiet_meter_does_not_average_out(analysed):
    meter = BARS | {"resolution": 2}
    document = analysed(trial_of_rows(bar_rows(4), meter=meter, margin=3.0))
    # steps of q on M RF channels leave the variance q^2 / (6 M) in a difference, however many the rounds
    floor = (2**2 / (6 * 5)) ** 0.5
    assert [pair["standard_error"] for pair in document["pairs"]] == pytest.approx([floor] * 3)


def test_all_equal_at_mid_scale_needs_more_runs_where_the_margin_is_finer_than_the_step(analysed):
    document = analysed(trial_of_rows(bar_rows(5), meter=BARS, margin=0.1))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert "identical-runs" in codes(document)


@pytest.mark.parametrize(("value", "code"), [(0, "at-floor"), (10, "at-ceiling"), (None, "at-floor")])
@pytest.mark.parametrize("elements", ["ab", "abc"])
def test_all_at_one_end_of_the_scale_says_nothing(analysed, value, code, elements):
    document = analysed(trial_of_rows(bar_rows(value, elements=elements), meter=BARS))
    assert {entry["score"] for entry in document["elements"]} == {None}
    assert {entry["rank"] for entry in document["elements"]} == {None}
    assert document["verdict"]["outcome"] == "needs more runs"
    assert reasons(document)[0] == "no-level"
    assert code in codes(document)
    assert {left["why"] for left in document["read_as"]["left_out"]} == {"same end of the scale in every run"}


def test_nothing_received_on_an_unbounded_meter_leaves_no_level(analysed):
    document = analysed(trial_of_rows(bar_rows(None)))
    assert reasons(document) == ["no-level"]  # and not "not-judged", which would blame the runs
    assert {left["why"] for left in document["read_as"]["left_out"]} == {
        "nothing received on an unbounded meter"
    }
    received = [
        cell["received_rounds"]
        for entry in document["reception"]["elements"]
        for cell in entry["rf_channels"]
    ]
    assert set(received) == {0}


def test_a_tie_for_the_best_score_has_no_winner(analysed):
    scores = noisy_scores({"a": 12.0, "c": 4.0}, rounds=6, sd=0.1)
    document = analysed(made_trial({"a": scores["a"], "b": scores["a"], "c": scores["c"]}))
    assert document["verdict"]["winner"] is None
    assert document["verdict"]["outcome"] != "clear winner"
    ranks = {entry["id"]: entry["rank"] for entry in document["elements"]}
    assert ranks == {"a": 1, "b": 1, "c": 3}
    assert document["verdict"]["leading"] == ["a", "b"]


def test_elements_without_a_run_are_named_and_not_judged(analysed):
    scores = noisy_scores({"a": 12.0, "b": 8.0, "c": 4.0}, rounds=6, sd=0.1)
    document = analysed(made_trial({**scores, "d": [None] * 6}))
    assert document["verdict"]["winner"] == "a"
    entry = document["elements"][3]
    assert (entry["score"], entry["total"], entry["rank"], entry["place"], entry["rounds"]) == (
        None,
        None,
        None,
        None,
        0,
    )
    assert {"code": "not-judged", "evidence": {"elements": ["d"]}, "message": None} in document["verdict"][
        "reasons"
    ]


def test_elements_that_share_no_round_are_not_compared(analysed):
    scores = {"a": [1.0, 1.1, 0.9, None, None, None], "b": [None, None, None, 2.0, 2.1, 1.9]}
    document = analysed(made_trial(scores))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert document["pairs"][0]["difference"] is None
    assert document["pairs"][0]["signed_rank"]["p_value"] is None
