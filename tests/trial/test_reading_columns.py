"""Readings as columns: nothing is lost there and back, and cells are told apart as in one table."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.trial.kept_readings import held_already, put_together, replaced_by
from service.trial.reading_columns import columns_of, distinct_channels, distinct_runs, frame_of, stacked
from service.trial.rounds import MOUNTINGS, ROUND_COLUMN, ROW_ORDER, TIMES
from tests.trial.made_frames import readings_frame

NAMES = st.none() | st.sampled_from(["m1", "m10", "ä", "日本"])
ROW = st.fixed_dictionaries(
    {
        "element": st.sampled_from("abc"),
        "channel": st.sampled_from(["27", "Quay"]),
        "round": st.none() | st.integers(1, 9999),
        "value": st.none() | st.floats(-130, 130),
        "rf_channel": NAMES,
        "run": NAMES,
        "mounting": NAMES,
        "at": st.none() | st.datetimes(pd.Timestamp(2020, 1, 1), pd.Timestamp(2030, 1, 1)).map(
            lambda at: at.isoformat(timespec="microseconds") + "Z"
        ),
    }
)  # fmt: skip


def columns(*rows):
    return columns_of(
        readings_frame(
            [dict(zip(("element", "round", "channel", "value"), row, strict=True)) for row in rows]
        )
    )


@settings(deadline=None, max_examples=40)
@given(st.lists(ROW, max_size=8))
def test_a_table_comes_back_as_it_was(rows):
    frame = readings_frame(rows)
    back = frame_of(columns_of(frame))
    for name in frame:
        assert (
            back[name].astype(object).where(back[name].notna(), None).tolist()
            == frame[name].astype(object).where(frame[name].notna(), None).tolist()
        )
    assert back.dtypes[["round", "value", "received", "at", "row"]].equals(
        frame.dtypes[["round", "value", "received", "at", "row"]]
    )


@settings(deadline=None, max_examples=40)
@given(st.lists(ROW, max_size=5), st.lists(ROW, max_size=5))
def test_parts_stacked_are_the_rows_of_both(first, second):
    whole = frame_of(stacked([columns_of(readings_frame(first)), columns_of(readings_frame(second))]))
    both = readings_frame([*first, *second])
    for name in ("element", "channel", "rf_channel", "run", "mounting"):
        assert (
            whole[name].astype(object).where(whole[name].notna(), None).tolist()
            == both[name].astype(object).where(both[name].notna(), None).tolist()
        )
    np.testing.assert_array_equal(whole["value"], both["value"])


@pytest.mark.parametrize(
    ("given_columns", "told"),
    [
        ({"round": 1}, ROUND_COLUMN),
        ({"round": 1, "mounting": "m"}, ROUND_COLUMN),
        ({"mounting": "m"}, MOUNTINGS),
        ({"at": "2026-03-01T10:00:00Z"}, TIMES),
        ({"run": "r"}, ROW_ORDER),
    ],
)
def test_rounds_are_told_by_the_first_column_that_decides(given_columns, told):
    frame = readings_frame([{"element": "a", "channel": "c", "value": 1.0, **given_columns}])
    assert columns_of(frame).rounds_from() == told


def test_runs_and_channels_are_told():
    held = columns_of(readings_frame([
        {"element": "b", "round": 10, "channel": "Quay", "rf_channel": "27", "value": 1},
        {"element": "a", "round": 2, "channel": "Quay", "value": 1},
        {"element": "a", "round": 2, "channel": "Pier", "value": 1},
    ]))  # fmt: skip
    assert distinct_runs(held) == [["a", "2"], ["b", "10"]]
    assert distinct_channels(held) == [["Pier", None], ["Quay", "27"]]


def test_a_correction_takes_the_place_of_earlier_cells_alone():
    first = columns(("a", 1, "c", 1.0), ("b", 1, "c", 2.0))
    correction = columns(("a", 1, "c", 3.0), ("a", 2, "c", 4.0))
    later = columns(("b", 2, "c", 5.0))
    whole = frame_of(put_together([first, correction, later], [False, True, False]))
    assert whole["value"].tolist() == [2.0, 3.0, 4.0, 5.0]
    other = frame_of(put_together([correction, first], [True, False]))
    assert other["value"].tolist() == [3.0, 4.0, 1.0, 2.0]


def test_cells_that_are_there_already_are_found_in_each_part():
    stored = [columns(("a", 1, "c", 1.0)), columns(("b", 1, "c", 2.0), ("b", 1, "d", 2.0))]
    new = columns(("b", 1, "c", 9.0), ("a", 1, "d", 9.0), ("a", 1, "c", 9.0))
    assert [found.tolist() for found in held_already(stored, new)] == [[2], [0]]


def test_another_run_is_another_scan_of_the_same_cell():
    def scan(run):
        return columns_of(
            readings_frame([{"element": "a", "round": 1, "channel": "c", "value": 1, "run": run}])
        )

    assert [found.tolist() for found in held_already([scan("r1")], scan("r2"))] == [[]]
    assert [found.tolist() for found in held_already([scan("r1")], scan("r1"))] == [[0]]
    assert [found.tolist() for found in replaced_by([scan("r1")], scan("r2"))] == [[0]]
