"""Cautions that chance would raise: honest runs that agree, a difference that is only just clear."""

import numpy as np

from tests.analysis.made_trials import BARS, Row, rows_of, trial_of_rows
from tests.analysis.read_document import codes, evidence


def on_a_meter(levels: np.ndarray) -> list[Row]:
    """Readings (element, round, channel) on a meter with steps of one bar."""
    return [
        {"element": "abc"[k], "round": r + 1, "channel": f"s{c}", "rf_channel": str(21 + c), "value": value}
        for (k, r, c), value in np.ndenumerate(np.round(levels))
    ]


def levels(noise: float, channels: int = 6) -> np.ndarray:
    stream = np.random.RandomState(4)
    return stream.uniform(3.0, 7.0, (3, 1, channels)) + noise * stream.normal(size=(3, 6, channels))


def test_runs_that_a_quiet_meter_shows_alike_are_no_copies(analysed):
    """Most neighbouring runs of an element agree in five channels or six: no pair of them is a surprise."""
    quiet = on_a_meter(levels(0.1))
    runs = np.round(levels(0.1))
    assert (runs[:, 1:] == runs[:, :-1]).all(axis=2).any()
    assert "identical-runs" not in codes(analysed(trial_of_rows(quiet, meter=BARS)))


def test_a_copy_stands_out_where_honest_runs_seldom_agree(analysed):
    noisy = levels(1.0, channels=14)
    assert "identical-runs" not in codes(analysed(trial_of_rows(on_a_meter(noisy), meter=BARS)))
    noisy[2, 5] = noisy[2, 1]
    (told,) = evidence(analysed(trial_of_rows(on_a_meter(noisy), meter=BARS)), "identical-runs")["pairs"]
    assert told == {"first": {"element": "c", "round": 2}, "second": {"element": "c", "round": 6}}


def only_just_clear(pattern: float) -> list[Row]:
    """Two elements 0.3 dB apart in every round but for a little, over eight RF channels."""
    stream = np.random.RandomState(2)
    by_channel = pattern * np.array([1, -1, 1, -1, 1, -1, 1, -1])
    scores = {"a": [0.3, 0.5, 0.1, 0.4, 0.2, 0.3, 0.45], "b": [0.0] * 7}
    return [
        row
        | {
            "value": row["value"]
            + 0.5 * stream.normal()
            + (by_channel[int(row["channel"][1:])] if row["element"] == "a" else 0.0)
        }
        for row in rows_of(scores, signals=8)
    ]


def test_a_difference_alike_on_all_channels_does_not_depend_on_them(analysed):
    """The interval over other channels reaches 0 both times; only the second time channels differ."""
    document = analysed(trial_of_rows(only_just_clear(0.0), margin=0.1))
    assert document["verdict"]["winner"] == "a"
    bootstrap = document["pairs"][0]["bootstrap"]
    assert bootstrap["low"] < 0 < bootstrap["high"]
    assert "depends-on-channels" not in codes(document)
    other = analysed(trial_of_rows(only_just_clear(0.8), margin=0.1))
    assert other["verdict"]["winner"] == "a"
    (told,) = evidence(other, "depends-on-channels")["pairs"]
    assert told["p_value"] <= 0.02
