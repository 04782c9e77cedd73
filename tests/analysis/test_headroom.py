"""Headroom: the level less what is needed, by RF channel and element, in decibel units only."""

import pytest

from tests.analysis.made_trials import BARS, made_trial, trial_of_rows

SCORES = {"a": [20.0, 22.0, 21.0], "b": [18.0, 17.0, 19.0]}
NEEDED = {"unit": "dB", "resolution": 0.001, "needed": 15.0}


def test_without_a_needed_level_there_is_none(analysed):
    assert analysed(made_trial(SCORES))["reception"]["headroom"] is None


def test_it_is_the_mean_level_less_what_is_needed(analysed):
    document = analysed(made_trial(SCORES, meter=NEEDED))
    headroom = document["reception"]["headroom"]
    assert [entry["rf_channel"] for entry in headroom] == ["21", "22", "23", "24"]
    means = {channel["rf_channel"]: channel["elements"] for channel in document["channels"]}
    for entry in headroom:
        for told, mean in zip(entry["elements"], means[entry["rf_channel"]], strict=True):
            assert told["element"] == mean["element"]
            assert told["level"] == pytest.approx(mean["mean"], rel=1e-12)
            assert told["headroom"] == pytest.approx(mean["mean"] - 15.0, rel=1e-12)


def test_channels_of_one_signal_are_one_level(analysed):
    rows = [
        {"element": name, "round": r, "channel": f"p{c}", "rf_channel": "27", "value": 20.0 + 2 * c}
        for name in "ab" for r in (1, 2, 3) for c in (0, 1)
    ]  # fmt: skip
    (entry,) = analysed(trial_of_rows(rows, meter=NEEDED))["reception"]["headroom"]
    assert [told["headroom"] for told in entry["elements"]] == [6.0, 6.0]


def test_a_signal_that_was_never_found_has_no_level_and_no_headroom(analysed):
    rows = [
        {"element": name, "round": r, "channel": c, "rf_channel": c, "value": 20.0 + r}
        for name in "ab" for r in (1, 2, 3) for c in ("27", "28")
    ]  # fmt: skip
    lost = [row | {"value": None} if (row["element"], row["channel"]) == ("b", "28") else row for row in rows]
    document = analysed(trial_of_rows(lost, meter=NEEDED))
    headroom = {entry["rf_channel"]: entry["elements"] for entry in document["reception"]["headroom"]}
    assert headroom["28"][0]["headroom"] == pytest.approx(7.0)
    assert headroom["28"][1] == {"element": "b", "level": None, "headroom": None}


def test_a_bar_is_never_called_a_decibel(analysed):
    document = analysed(made_trial({"a": [5.0, 6.0], "b": [4.0, 5.0]}, signals=1, meter=BARS))
    assert document["reception"]["headroom"] is None
