"""The list of faults of one batch."""

import numpy as np
import pytest

from service.errors import BadInput, Fault
from service.intake.faults import FaultList


def raised(faults):
    with pytest.raises(BadInput) as caught:
        faults.raise_any()
    return caught.value


def rows(*numbers):
    return np.array(numbers, dtype=np.int64)


def test_without_a_fault_nothing_is_raised():
    FaultList(in_json=True).raise_any()


def test_faults_stand_in_order_of_their_rows_those_without_first():
    faults = FaultList(in_json=True)
    faults.at_rows(rows(12), lambda _: ("value", "late", 1))
    faults.add([Fault("early", pointer="#/readings/3/note"), Fault("none", pointer="#/trial/margin")])
    faults.lost(Fault("lost", pointer="#/readings/7"))
    faults.add([Fault("list", pointer="#/readings")])
    assert [fault.detail for fault in raised(faults).faults] == ["none", "list", "early", "lost", "late"]
    assert faults.rows_lost == 1


def test_rows_of_a_table_are_lines():
    faults = FaultList(in_json=False)
    faults.at_rows(rows(9, 10), lambda index: ("value", "bad", index))
    faults.add([Fault("ragged", row=2)])
    assert [(f.row, f.column, f.given) for f in raised(faults).faults] == [
        (2, None, None), (9, "value", 0), (10, "value", 1),
    ]  # fmt: skip


@pytest.mark.parametrize("order", [1, -1])
def test_the_first_hundred_are_kept_whatever_the_order_in_which_they_are_noted(order):
    faults = FaultList(in_json=False)
    for row in range(5000)[::order]:
        faults.add([Fault("x", row=row)])
    refusal = raised(faults)
    assert [fault.row for fault in refusal.faults] == list(range(100))
    assert refusal.count == 5000


def test_no_more_is_told_than_can_be_listed_and_all_is_counted():
    faults, told = FaultList(in_json=False), []

    def tell(index):
        told.append(index)
        return "value", "bad", index

    faults.at_rows(np.arange(2, 100_002), tell)
    assert (raised(faults).count, len(told)) == (100_000, 100)


def test_rows_are_remembered_by_their_column():
    faults = FaultList(in_json=False)
    faults.at_rows(np.arange(300), lambda _: ("at", "bad", None))
    faults.at_rows(rows(7, 400), lambda _: ("run", "bad", None))
    faults.at_rows(rows(), lambda _: ("round", "bad", None))
    assert faults.rows_of({"run", "round"}).tolist() == [7, 400]
    assert faults.rows_of({"at", "run"}).tolist() == [*range(300), 400]
    assert faults.rows_of({"round"}).size == 0
