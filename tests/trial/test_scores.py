"""Scores, and what they leave out."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from service.trial.names import with_names_of
from service.trial.rounds import assign_rounds
from service.trial.scores import score_table
from service.trial.trial import Channel, Element, Meter, Strike, Trial
from tests.trial.made_readings import BARS, UNBOUNDED, readings, rows, table_of
from tests.trial.plain_scores import plain_scores

NAMES = ("element", "round", "channel", "value")
CARRIERS = {"p": "27", "q": "27", "r": "31", "s": "33"}
CHANNELS = tuple(Channel(name, carrier) for name, carrier in CARRIERS.items())


def random_rows(seed, *, mountings=2, scans=2):
    """Rows of a trial with several mountings and scans, some cells not found, some runs missing."""
    random = np.random.default_rng(seed)
    made = []
    for element, number in product("abc", (1, 2, 5)):
        if random.random() < 0.15:
            continue
        for mounting, channel in product(range(random.integers(1, mountings + 1)), CARRIERS):
            for scan in range(random.integers(1, scans + 1)):
                level = round(float(random.uniform(0, 10)), 1)
                made.append({
                    "element": element, "round": number, "channel": channel, "run": str(scan),
                    "mounting": str(mounting), "value": None if random.random() < 0.1 else level,
                })  # fmt: skip
    return made


@pytest.mark.parametrize("seed", range(12))
def test_scores_are_those_of_plain_loops_to_the_last_bit(seed):
    made = random_rows(seed)
    expected, entered = plain_scores(made, CARRIERS, 0.0)
    table = table_of(made, channels=CHANNELS)
    found = {
        (element, number): table.scores[k, r]
        for k, element in enumerate(table.elements)
        for r, number in enumerate(table.rounds)
        if table.mountings[k, r]
    }
    assert found == expected
    assert set(table.rf_channels) == entered


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_rows_changes_no_bit(seed):
    made = random_rows(seed)
    order = np.random.default_rng(seed).permutation(len(made))
    one, two = table_of(made), table_of([made[place] for place in order])
    for name in ("scores", "cells", "received", "mountings"):
        np.testing.assert_array_equal(getattr(one, name), getattr(two, name))
    np.testing.assert_array_equal(one.by_channel.means, two.by_channel.means)


def test_renaming_channels_changes_no_bit():
    made = random_rows(3)
    renamed = {"p": "z", "q": "a", "r": "m", "s": "b"}
    other = [row | {"channel": renamed[row["channel"]]} for row in made]
    channels = tuple(Channel(renamed[name], carrier) for name, carrier in CARRIERS.items())
    np.testing.assert_array_equal(
        table_of(made, channels=CHANNELS).scores, table_of(other, channels=channels).scores
    )


def test_channels_of_an_rf_channel_count_once():
    table = table_of(rows("a 1 27.1 8\na 1 27.2 4\na 1 x 3\nb 1 27.1 5\nb 1 27.2 5\nb 1 x 5", *NAMES))
    assert table.rf_channels == ("27", "x")
    assert table.cells[0, 0].tolist() == [6.0, 3.0]
    assert table.scores[:, 0].tolist() == [4.5, 5.0]


def test_a_mounting_counts_once_however_often_it_was_scanned():
    text = "a 1 x 2 m1 1\na 1 x 4 m1 2\na 1 x 9 m2 1\nb 1 x 5 m1 1"
    table = table_of(rows(text, *NAMES, "mounting", "run"))
    assert table.scores[:, 0].tolist() == [6.0, 5.0]
    assert table.mountings.tolist() == [[2], [1]]
    element, number, score = table.mounting_scores
    assert (element.tolist(), number.tolist(), score.tolist()) == ([0, 0, 1], [0, 0, 0], [3.0, 9.0, 5.0])
    assert table.by_channel.scans.tolist() == [[3], [1]]


def test_not_received_counts_as_the_lowest_level_of_a_bounded_meter():
    table = table_of(rows("a 1 x -\na 1 y 8\nb 1 x 4\nb 1 y 8", *NAMES), meter=Meter("bars", 2.0, 10.0))
    assert table.scores[:, 0].tolist() == [5.0, 6.0]
    assert table.received[:, 0].tolist() == [[0.0, 1.0], [1.0, 1.0]]


def test_not_received_on_an_unbounded_meter_leaves_the_level_analysis():
    made = rows("a 1 27.1 -\na 1 27.2 50\na 1 y 60\nb 1 27.1 55\nb 1 27.2 52\nb 1 y 61", *NAMES)
    table = table_of(made, meter=UNBOUNDED)
    assert table.rf_channels == ("y",)
    assert table.scores[:, 0].tolist() == [60.0, 61.0]
    (left,) = table.left_out
    assert (left.name, left.why, left.runs, left.run_count) == (
        "27", "nothing received on an unbounded meter", (("a", 1),), 1,
    )  # fmt: skip
    assert table.received[:, 0, 0].tolist() == [1.0, 1.0]


def test_a_channel_not_scanned_in_some_run_leaves_its_rf_channel_which_stays():
    made = rows("a 1 27.1 8\na 1 27.2 4\na 2 27.1 6\nb 1 27.1 5\nb 1 27.2 5\nb 2 27.1 7\nb 2 27.2 1", *NAMES)
    table = table_of(made)
    assert (table.rf_channels, table.left_out) == (("27",), ())
    assert table.scores.tolist() == [[8.0, 6.0], [5.0, 7.0]]
    (left,) = table.channels_left_out
    assert (left.name, left.why, left.runs) == ("27.2", "not scanned in every run", (("a", 2),))


def test_an_rf_channel_none_of_whose_channels_was_scanned_throughout_is_left_out():
    text = "a 1 27.1 8\na 1 x 4\na 2 27.2 8\na 2 x 5\na 3 27.1 8\na 3 x 5"
    (left,) = table_of(rows(text, *NAMES)).left_out
    assert (left.name, left.why) == ("27", "not scanned in every run")
    assert left.runs == (("a", 2),)  # 27.1 lacks one run, 27.2 two: the shortest way back


def test_a_channel_must_be_scanned_in_every_mounting():
    text = "a 1 x 2 m1\na 1 y 2 m1\na 1 x 4 m2\nb 1 x 5 m1\nb 1 y 5 m1"
    table = table_of(rows(text, *NAMES, "mounting"))
    assert table.rf_channels == ("x",)
    assert table.left_out[0].runs == (("a", 1),)


@pytest.mark.parametrize("end", [0, 10])
def test_an_rf_channel_at_one_end_in_every_run_says_nothing(end):
    made = rows(f"a 1 x {end}\na 1 y 3\nb 1 x {end}\nb 1 y 5", *NAMES)
    table = table_of(made)
    assert table.rf_channels == ("y",)
    assert [(left.name, left.why) for left in table.left_out] == [("x", "same end of the scale in every run")]
    made[0]["value"] = 5
    assert table_of(made).rf_channels == ("x", "y")


def test_all_the_same_in_the_middle_of_the_scale_stays():
    assert table_of(rows("a 1 x 5\nb 1 x 5", *NAMES)).rf_channels == ("x",)


def test_never_received_is_the_lowest_end():
    assert table_of(rows("a 1 x -\na 1 y 3\nb 1 x 0\nb 1 y 5", *NAMES)).rf_channels == ("y",)


def test_a_struck_run_counts_only_when_asked_for():
    made = rows("a 1 x 3\nb 1 x 5\na 2 x 9\nb 2 x 5\na 3 x 1", *NAMES)
    strikes = (Strike("a", 2, "wind"), Strike("a", 3, "wind"))
    table = table_of(made, struck=strikes)
    assert table.rounds == (1, 2)
    np.testing.assert_array_equal(table.scores, [[3.0, np.nan], [5.0, 5.0]])
    assert table.mountings.tolist() == [[1, 0], [1, 1]]
    whole = table_of(made, struck=strikes, with_struck=True)
    np.testing.assert_array_equal(whole.scores, [[3.0, 9.0, 1.0], [5.0, 5.0, np.nan]])


def test_a_gap_in_a_struck_run_costs_nothing():
    made = rows("a 1 x 3\na 1 y 4\nb 1 x 5\nb 1 y 4\na 2 x 9\nb 2 x 5\nb 2 y 5", *NAMES)
    assert table_of(made).rf_channels == ("x",)
    assert table_of(made, struck=(Strike("a", 2, "wind"),)).rf_channels == ("x", "y")


def test_elements_without_a_run_stand_in_the_table():
    table = table_of(rows("b 1 x 5", *NAMES), elements=(Element("z"),))
    assert table.elements == ("z", "b")
    assert np.isnan(table.scores[0]).all()
    np.testing.assert_array_equal(table.by_channel.totals(), [np.nan, 5.0])


def test_nothing_left_gives_no_scores():
    table = table_of(rows("a 1 x 0\nb 1 x 0", *NAMES))
    assert table.rf_channels == ()
    assert table.cells.shape == (2, 1, 0)
    assert np.isnan(table.scores).all()
    assert table.mountings.tolist() == [[1], [1]]


def test_everything_struck_gives_an_empty_table():
    table = table_of(rows("a 1 x 3", *NAMES), struck=(Strike("a", 1, "wind"),))
    assert (table.rounds, table.scores.shape, table.received.shape) == ((), (1, 0), (1, 0, 1))


def test_received_tells_scanned_from_found():
    made = rows("a 1 27.1 -\na 1 27.2 4\na 1 x -\nb 1 27.1 -\nb 1 27.2 -", *NAMES)
    table = table_of(made)
    np.testing.assert_array_equal(table.received[:, 0], [[1.0, 0.0], [0.0, np.nan]])
    np.testing.assert_array_equal(table.by_channel.received[:, 0], [[0.0, 1.0, 0.0], [0.0, 0.0, np.nan]])


def test_one_scan_that_found_the_channel_is_enough():
    table = table_of(rows("a 1 x - s1\na 1 x 4 s2\nb 1 x - s1", *NAMES, "run"))
    assert table.received[:, 0, 0].tolist() == [1.0, 0.0]
    assert table.scores[:, 0].tolist() == [2.0, 0.0]


@pytest.mark.parametrize(
    ("meter", "expected"),
    [
        (replace(BARS, resolution_stated=True), (1.0, "stated")),
        (BARS, (1.0, "usual for the unit")),
        (Meter("dB"), (0.5, "smallest step in the readings")),
    ],
)
def test_the_step_of_the_meter(meter, expected):
    table = table_of(rows("a 1 x 3\na 1 y 4.5\nb 1 x 5\nb 1 y 3", *NAMES), meter=meter)
    assert (table.resolution, table.resolution_from) == expected


def test_equal_readings_show_no_step():
    table = table_of(rows("a 1 x 3\nb 1 x 3", *NAMES), meter=Meter("dB"))
    assert (table.resolution, table.resolution_from) == (None, "none")


def test_a_trial_that_does_not_know_its_readings_is_refused():
    given = readings(rows("a 1 x 3\nb 1 y 3", *NAMES))
    whole = with_names_of(Trial(meter=BARS), given)
    frame = assign_rounds(given).frame
    with pytest.raises(ValueError, match="an element"):
        score_table(replace(whole, elements=whole.elements[:1]), frame)
    with pytest.raises(ValueError, match="a channel"):
        score_table(replace(whole, channels=whole.channels[:1]), frame)
