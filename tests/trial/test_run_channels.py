"""The practitioner's totals, and runs channel by channel."""

import numpy as np

from service.trial.trial import Meter
from tests.trial.made_readings import UNBOUNDED, rows, table_of

NAMES = ("element", "round", "channel", "value")


def test_a_total_is_the_sum_of_the_mean_readings_every_channel_counting():
    text = "a 1 27.1 8\na 1 27.2 4\na 1 x 0\na 2 27.1 6\na 2 27.2 4\na 2 x 0\n"
    made = rows(text + text.replace("a ", "b ").replace("8", "9"), *NAMES)
    by_channel = table_of(made).by_channel
    assert by_channel.channels == ("27.1", "27.2", "x")
    assert by_channel.means.tolist() == [[7.0, 4.0, 0.0], [7.5, 4.0, 0.0]]
    assert by_channel.totals().tolist() == [11.0, 11.5]


def test_not_received_counts_lowest_in_a_total():
    made = rows("a 1 x -\na 1 y 8\nb 1 x 4\nb 1 y 8", *NAMES)
    assert table_of(made, meter=Meter("bars", 1.0, 10.0)).by_channel.totals().tolist() == [9.0, 12.0]


def test_a_mean_weighs_rounds_alike_however_often_they_were_scanned():
    made = rows("a 1 x 2 s1\na 1 x 4 s2\na 2 x 9 s1", *NAMES, "run")
    assert table_of(made).by_channel.means[0, 0] == 6.0


def test_totals_are_over_the_channels_that_every_element_was_scanned_on():
    made = rows("a 1 x 5\na 1 y 5\na 1 z 1\nb 1 x 6\nb 2 y 6\nb 1 q 9", *NAMES)
    by_channel = table_of(made).by_channel
    assert [by_channel.channels[place] for place in by_channel.shared_channels()] == ["x", "y"]
    assert by_channel.totals().tolist() == [10.0, 12.0]


def test_scans_that_found_nothing_have_no_level_on_an_unbounded_meter():
    by_channel = table_of(
        rows("a 1 x - s1\na 1 x 50 s2\na 1 y - s1", *NAMES, "run"), meter=UNBOUNDED
    ).by_channel
    np.testing.assert_array_equal(by_channel.levels[0, 0], [50.0, np.nan])
    np.testing.assert_array_equal(by_channel.least[0], [50.0, np.nan])
    assert by_channel.received[0, 0].tolist() == [1.0, 0.0]


def test_ends_are_those_of_single_readings():
    by_channel = table_of(rows("a 1 x 2 s1\na 1 x 4 s2\na 2 x 9 s1\nb 1 x 5 s1", *NAMES, "run")).by_channel
    assert (by_channel.least[:, 0].tolist(), by_channel.most[:, 0].tolist()) == ([2.0, 5.0], [9.0, 5.0])
