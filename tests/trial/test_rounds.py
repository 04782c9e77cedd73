"""Which readings make a round, and which a mounting."""

import numpy as np
import pytest

from service.errors import BadInput
from service.trial.readings_table import Readings
from service.trial.rounds import assign_rounds, repeated_cells
from tests.trial.made_readings import readings, rows


def assigned(made):
    frame = assign_rounds(readings(made)).frame
    return list(zip(frame["round"].tolist(), frame["mounting"].tolist(), strict=True))


def timed(*moments):
    """Readings of one channel: (element, minute)."""
    return [
        {"element": element, "channel": "x", "value": 1, "at": f"2026-05-12T10:{minute:02}:00Z"}
        for element, minute in moments
    ]


def labelled(*marks, **more):
    return [{"element": e, "channel": "x", "value": 1, "mounting": m} | more for e, m in marks]


def test_with_a_round_all_runs_of_an_element_in_it_are_one_mounting():
    made = rows("a 1 x s1\na 1 x s2\nb 1 x s1\na 4 x s1", "element", "round", "channel", "run")
    assert assigned(made) == [(1, 1), (1, 1), (1, 1), (4, 2)]
    assert assign_rounds(readings(made)).rounds_from == "round column"


def test_labels_of_mountings_part_a_round():
    made = labelled(("a", "2"), ("a", "1"), ("a", "1"), round=3)
    assert assigned(made) == [(3, 2), (3, 1), (3, 1)]


def test_the_same_label_in_two_rounds_is_two_mountings():
    made = labelled(("a", "1"), round=1) + labelled(("a", "1"), round=2)
    assert assigned(made) == [(1, 1), (2, 2)]


def test_without_a_round_the_nth_mounting_is_round_n_whatever_the_order_of_rows():
    made = labelled(("a", "10"), ("a", "9"), ("b", "7"), ("a", "9"))
    assert assigned(made) == [(2, 2), (1, 1), (1, 1), (1, 1)]
    assert assign_rounds(readings(made)).rounds_from == "mountings"


def test_labels_that_are_no_numbers_stand_by_code_point_behind_those_that_are():
    assert assigned(labelled(("a", "noon"), ("a", "2"), ("a", "dawn"), ("a", "10"))) == [
        (4, 4),
        (1, 1),
        (3, 3),
        (2, 2),
    ]


def test_labelled_mountings_follow_their_first_time():
    made = labelled(("a", "1"), ("a", "2"), ("a", "1"))
    for row, minute in zip(made, (30, 20, 10), strict=True):
        row["at"] = f"2026-05-12T10:{minute}:00Z"
    assert assigned(made) == [(1, 1), (2, 2), (1, 1)]
    made[0]["mounting"] = "0"
    assert assigned(made) == [(3, 3), (2, 2), (1, 1)]


def test_by_time_another_element_between_makes_a_new_mounting():
    made = timed(("a", 1), ("a", 2), ("b", 3), ("a", 4), ("b", 5), ("b", 6))
    assert [number for number, _ in assigned(made)] == [1, 1, 1, 2, 2, 2]
    assert assign_rounds(readings(made)).rounds_from == "times"
    assert [number for number, _ in assigned(made[::-1])] == [2, 2, 2, 1, 1, 1]


def test_at_one_instant_the_element_that_is_on_already_comes_first():
    made = timed(("b", 1), ("b", 2), ("a", 2), ("a", 3))
    assert [number for number, _ in assigned(made)] == [1, 1, 1, 1]


def test_by_rows_only_where_nothing_else_tells():
    made = rows("a x\na y\nb x\nb y\na x\na y", "element", "channel")
    assert [number for number, _ in assigned(made)] == [1, 1, 1, 1, 2, 2]
    assert assign_rounds(readings(made)).rounds_from == "order of rows"


def test_rows_sorted_by_channel_are_one_mounting_each_when_no_cell_repeats():
    made = rows("a x\nb x\na y\nb y", "element", "channel")
    assert assigned(made) == [(1, 1)] * 4


def test_runs_are_ordered_by_their_first_row():
    made = rows("a x 1\nb x 1\na x 2\nb x 2\na y 1\nb y 1\na y 2\nb y 2", "element", "channel", "run")
    assert [number for number, _ in assigned(made)] == [1, 1, 2, 2, 1, 1, 2, 2]


def test_runs_with_nothing_between_are_one_mounting():
    made = rows("a x 1\na x 2\nb x 1", "element", "channel", "run")
    assert assigned(made) == [(1, 1), (1, 1), (1, 1)]


@pytest.mark.parametrize(
    ("column", "value"), [("round", 1), ("mounting", "1"), ("at", "2026-05-12T10:00:00Z")]
)
def test_a_deciding_column_is_filled_in_every_row_or_in_none(column, value):
    made = [
        {"element": "a", "channel": "x", "value": 1},
        {"element": "a", "channel": "y", "value": 1, column: value},
    ]
    with pytest.raises(BadInput) as caught:
        assign_rounds(Readings(readings(made).frame, {"media_type": "application/json"}))
    (fault,) = caught.value.faults
    assert fault.pointer == f"#/readings/0/{column}"
    assert "1 of 2" in fault.detail


def test_beside_a_round_the_others_may_be_filled_as_they_come():
    made = labelled(("a", "1"), ("a", None), round=1)
    assert assigned(made) == [(1, 2), (1, 1)]


def test_no_readings_have_no_rounds():
    assert len(assign_rounds(readings([])).frame) == 0


@pytest.mark.parametrize("told_apart", [{"run": ("1", "2")}, {"mounting": ("1", "2")}])
def test_scans_told_apart_are_no_repetition(told_apart):
    ((name, labels),) = told_apart.items()
    made = [{"element": "a", "channel": "x", "round": 1, "value": 1, name: label} for label in labels]
    assert repeated_cells(assign_rounds(readings(made)))[0].size == 0


def test_a_repeated_cell_is_found_with_the_first_of_it():
    made = rows("a 1 x\na 1 y\na 2 x\na 1 x\nb 1 x\na 1 x", "element", "round", "channel")
    again, first = repeated_cells(assign_rounds(readings(made)))
    assert (again.tolist(), first.tolist()) == ([3, 5], [0, 0])


def test_the_same_time_does_not_tell_scans_apart():
    made = timed(("a", 1), ("a", 1), ("a", 2))
    assert repeated_cells(assign_rounds(readings(made)))[0].tolist() == [1]


def test_rounds_do_not_depend_on_the_order_of_rows_where_anything_tells():
    random = np.random.default_rng(5)
    for made in (
        timed(("a", 1), ("b", 2), ("b", 2), ("a", 4), ("c", 4), ("a", 7)),
        labelled(("a", "3"), ("b", "1"), ("a", "1"), ("b", "x")),
    ):
        order = random.permutation(len(made))
        expected = assigned(made)
        assert assigned([made[place] for place in order]) == [expected[place] for place in order]
