"""Cautions about readings, channels and noise: each raised, and each just not raised."""

import numpy as np
import pytest

from tests.analysis.made_trials import BARS, Row, made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import caution, codes, evidence

TWO = noisy_scores({"a": 12.0, "b": 8.0}, rounds=3, sd=0.2)


def named(channels: list[str], **fields) -> list[Row]:
    """Readings of two elements over three rounds on these channels."""
    return [
        {"element": name, "round": r + 1, "channel": channel, "value": 5.0 + k + 0.1 * r * (c + 1)} | fields
        for k, name in enumerate("ab")
        for r in range(3)
        for c, channel in enumerate(channels)
    ]


def bars(readings: np.ndarray) -> list[Row]:
    """Readings (element, round, channel) on a meter of ten bars; a negative one is a lost channel."""
    return [
        {
            "element": "abcdefgh"[k],
            "round": r + 1,
            "channel": f"s{c}",
            "rf_channel": str(21 + c),
            "value": None if value < 0 else float(value),
        }
        for (k, r, c), value in np.ndenumerate(readings)
    ]


def test_rf_channel_unknown(analysed):
    document = analysed(trial_of_rows(named(["Harbour", "27.1", "Quay"])))
    assert evidence(document, "rf-channel-unknown") == {"channels": ["Harbour", "Quay"]}
    assert "rf-channel-unknown" not in codes(analysed(trial_of_rows(named(["Harbour"], rf_channel="27"))))


def test_rf_channel_guessed(analysed):
    document = analysed(trial_of_rows(named(["27.1", "27.2", "28-1", "Quay"])))
    assert evidence(document, "rf-channel-guessed") == {
        "groups": [
            {"rf_channel": "27", "channels": ["27.1", "27.2"]},
            {"rf_channel": "28", "channels": ["28-1"]},
        ]
    }
    assert "rf-channel-guessed" not in codes(analysed(trial_of_rows(named(["27.1"], rf_channel="40"))))


def test_shared_rf_channel(analysed):
    document = analysed(trial_of_rows(named(["27.1", "27.2", "28-1"])))
    assert evidence(document, "shared-rf-channel") == {
        "groups": [{"rf_channel": "27", "channels": ["27.1", "27.2"]}],
        "channels": 3,
        "rf_channels": 2,
    }
    assert "shared-rf-channel" not in codes(analysed(trial_of_rows(named(["27.1", "28.1"]))))


def test_blanks_read_as_lost(analysed):
    document = analysed(made_trial(TWO, read_as={"blanks_read_as_lost": 3}))
    assert evidence(document, "blanks-read-as-lost") == {"count": 3, "of": 24}
    assert "blanks-read-as-lost" not in codes(analysed(made_trial(TWO)))


def test_blanks_are_counted_among_all_readings_struck_ones_too(analysed):
    struck = [{"element": "a", "round": 2, "reason": "gust"}]
    document = analysed(made_trial(TWO, read_as={"blanks_read_as_lost": 3}, struck=struck))
    assert evidence(document, "blanks-read-as-lost") == {"count": 3, "of": 24}


def mid_scale(rounds: int = 5) -> np.ndarray:
    """Two elements, five rounds, ten channels, no two runs alike and nothing at an end."""
    return 3.0 + (np.arange(2 * rounds * 10).reshape(2, rounds, 10) * 7 % 11 % 5)


@pytest.mark.parametrize(("code", "value"), [("at-ceiling", 10), ("at-floor", 0), ("at-floor", -1)])
def test_a_tenth_of_all_readings_at_an_end(analysed, code, value):
    readings = mid_scale()
    readings[0, :, :2] = value  # ten of a hundred
    document = analysed(trial_of_rows(bars(readings), meter=BARS))
    assert evidence(document, code) == {"readings": 10, "of": 100, "share": 0.1, "rf_channels": []}
    readings[0, 0, 0] = 5
    assert code not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))


@pytest.mark.parametrize(("code", "value"), [("at-ceiling", 10), ("at-floor", 0), ("at-floor", -1)])
def test_one_rf_channel_at_an_end_in_every_run(analysed, code, value):
    readings = np.concatenate([mid_scale(), mid_scale()], axis=2)
    readings[:, :, 4] = value  # one of twenty
    document = analysed(trial_of_rows(bars(readings), meter=BARS))
    assert evidence(document, code) == {"readings": 10, "of": 200, "share": 0.05, "rf_channels": ["25"]}
    readings[1, 2, 4] = 5
    assert code not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))


def test_an_open_meter_has_no_ends(analysed):
    rows = [row | {"value": 0.0} if row["channel"] == "s0" else row for row in rows_of(TWO)]
    found = codes(analysed(trial_of_rows(rows)))
    assert not {"at-ceiling", "at-floor"} & set(found)


def test_unitless_total(analysed):
    document = analysed(trial_of_rows(bars(mid_scale()), meter=BARS))
    assert evidence(document, "unitless-total") == {"unit": "bars"}
    assert "unitless-total" not in codes(analysed(made_trial(TWO)))


def test_one_rf_channel(analysed):
    assert evidence(analysed(made_trial(TWO, signals=1)), "one-rf-channel") == {"rf_channel": "21"}
    assert "one-rf-channel" not in codes(analysed(made_trial(TWO, signals=2)))


def test_identical_runs(analysed):
    readings = mid_scale()
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))
    readings[1, 3] = readings[0, 1]
    found = caution(analysed(trial_of_rows(bars(readings), meter=BARS)), "identical-runs")
    assert found["severity"] == "warning"
    assert found["evidence"] == {
        "pairs": [{"first": {"element": "a", "round": 2}, "second": {"element": "b", "round": 4}}]
    }
    readings[1, 3, 9] += 1
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))


def test_a_lost_channel_is_not_the_same_as_one_at_the_lowest_bar(analysed):
    readings = mid_scale()
    readings[0, 1, 0], readings[1, 3] = 0, readings[0, 1]
    readings[1, 3, 0] = -1
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))


def test_runs_at_the_end_of_the_scale_are_alike_and_no_copies(analysed):
    readings = mid_scale()
    readings[1] = 10
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))
    everything = np.full((3, 4, 10), 10.0)
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(everything), meter=BARS)))
    nothing = np.full((3, 4, 10), -1.0)
    assert "identical-runs" not in codes(analysed(trial_of_rows(bars(nothing), meter=BARS)))


def test_channels_that_never_vary_are_no_sign_of_a_copy(analysed):
    readings = np.full((2, 4, 10), 5.0)
    readings[:, :, 0] = 10.0
    readings[0, 0, 0] = readings[1, 2, 0] = (
        7.0  # the one channel that varies, twice the same inside the scale
    )
    found = caution(analysed(trial_of_rows(bars(readings), meter=BARS)), "identical-runs")
    assert found["evidence"]["pairs"] == [
        {"first": {"element": "a", "round": 1}, "second": {"element": "b", "round": 3}}
    ]
    assert found["severity"] == "note"  # one channel tells, and two readings agree easily


def test_runs_of_a_single_reading_are_alike_easily(analysed):
    found = caution(analysed(trial_of_rows(bars(np.full((2, 2, 1), 5.0)), meter=BARS)), "identical-runs")
    assert found["severity"] == "note"
    assert len(found["evidence"]["pairs"]) == 3  # each later run with the first one like it


def test_margin_below_repeatability(analysed):
    scores = noisy_scores({"a": 12.0, "b": 8.0, "c": 7.0}, rounds=4, sd=0.4)
    sd = analysed(made_trial(scores, margin=5.0))["repeatability"]["sd"]
    document = analysed(made_trial(scores, margin=1.99 * sd))
    assert evidence(document, "margin-below-repeatability") == {
        "margin": 1.99 * sd,
        "sd": pytest.approx(sd),
        "smallest_useful_margin": pytest.approx(2 * sd),
    }
    assert "margin-below-repeatability" not in codes(analysed(made_trial(scores, margin=2.0 * sd)))


def steady(extra: float) -> list[Row]:
    """Two elements that differ by 1 dB in every round on average; `extra` more or less by RF channel."""
    pattern = [extra, -extra, extra, -extra]
    return [
        row | {"value": row["value"] + (pattern[int(row["channel"][1:])] if row["element"] == "a" else 0.0)}
        for row in rows_of(noisy_scores({"a": 11.0, "b": 10.0}, rounds=6, sd=0.1))
    ]


def test_depends_on_channels(analysed):
    document = analysed(trial_of_rows(steady(2.0), margin=0.5))
    assert document["verdict"]["winner"] == "a"
    (told,) = evidence(document, "depends-on-channels")["pairs"]
    assert (told["first"], told["second"]) == ("a", "b")
    assert told["low"] < 0 < told["high"]
    assert "depends-on-channels" not in codes(analysed(trial_of_rows(steady(0.0), margin=0.5)))


def test_coarse_meter(analysed):
    readings = 3.0 + np.arange(2 * 5 * 10).reshape(2, 5, 10) % 7
    readings[1] = readings[0] + 1
    readings[1].flat[:26] -= 1  # 26 of 50 pairs of readings tie
    found = caution(analysed(trial_of_rows(bars(readings), meter=BARS)), "coarse-meter")
    assert found["severity"] == "note"
    assert found["evidence"] == {"ties": 26, "of": 50, "share": 0.52, "resolution": 1.0}
    readings[1].flat[0] += 1
    assert "coarse-meter" not in codes(analysed(trial_of_rows(bars(readings), meter=BARS)))


def test_ties_are_counted_over_all_pairs(analysed):
    readings = np.array([3.0, 3.0, 4.0, 3.0]).reshape(4, 1, 1) + np.zeros((4, 3, 2))
    document = analysed(trial_of_rows(bars(readings), meter=BARS))
    assert "coarse-meter" not in codes(document)  # 18 of 36, not most
    readings[2, 0, 0] = 3.0
    assert evidence(analysed(trial_of_rows(bars(readings), meter=BARS)), "coarse-meter")["ties"] == 21


def reception(found: dict[int, int], *, rounds: int = 6) -> list[Row]:
    """Two elements on four channels; b loses channel c in so many of the first rounds."""
    readings = 3.0 + np.arange(2 * rounds * 4).reshape(2, rounds, 4) % 5
    for channel, lost in found.items():
        readings[1, :lost, channel] = -1
    return bars(readings)


def test_one_rf_channel_decides(analysed):
    told = evidence(analysed(trial_of_rows(reception({2: 6}), meter=BARS)), "one-rf-channel-decides")
    assert told["rf_channel"] == "23"
    assert told["elements"] == [
        {"element": "a", "received_rounds": 6, "scanned_rounds": 6},
        {"element": "b", "received_rounds": 0, "scanned_rounds": 6},
    ]
    assert told["p_value"] <= 0.05 < told["p_value_without"]


def test_a_difference_that_stands_without_any_one_rf_channel_hangs_on_none(analysed):
    document = analysed(trial_of_rows(reception({2: 6, 3: 6}), meter=BARS))
    assert document["reception"]["cochran_q"]["p_value"] <= 0.05
    assert "one-rf-channel-decides" not in codes(document)


def test_without_a_difference_in_reception_nothing_hangs_on_anything(analysed):
    document = analysed(trial_of_rows(reception({2: 5}), meter=BARS))
    assert document["reception"]["cochran_q"]["p_value"] > 0.05
    assert "one-rf-channel-decides" not in codes(document)
