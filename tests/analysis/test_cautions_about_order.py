"""Cautions about when runs were made and in which order: each raised, and each just not raised."""

import dataclasses

import pytest

from tests.analysis.made_trials import Row, trial_of_rows
from tests.analysis.read_document import caution, codes, evidence


def ordered(
    orders: list[str], *, minutes: float = 10.0, given: tuple[str, ...] = ("round", "at")
) -> list[Row]:
    """Two readings a run, the elements of each round in the order of the letters, so many minutes apart.

    `given` are the columns that tell rounds and order.
    """
    rows: list[Row] = []
    for r, order in enumerate(orders):
        for place, name in enumerate(order):
            second = round(60 * minutes * place)
            at = f"2025-05-{10 + r}T{8 + second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}Z"
            told = {"round": r + 1, "at": at}
            rows += [
                {
                    "element": name,
                    "channel": f"s{c}",
                    "rf_channel": str(c),
                    "value": 5.0 + c + 0.1 * r * (place + 1),
                }
                | {column: told[column] for column in given}
                for c in range(2)
            ]
    return rows


def test_far_apart(analysed):
    told = evidence(analysed(trial_of_rows(ordered(["abc", "cab"], minutes=61))), "far-apart")
    assert told["allowed_hours"] == 2.0
    assert told["rounds"] == [{"round": n, "hours": pytest.approx(122 / 60)} for n in (1, 2)]
    assert "far-apart" not in codes(analysed(trial_of_rows(ordered(["abc", "cab"], minutes=60))))
    assert "far-apart" not in codes(analysed(trial_of_rows(ordered(["abc", "cab"], given=("round",)))))


@pytest.mark.parametrize("unit", ["s", "us", "ns"])
def test_times_count_the_same_in_whatever_unit_they_were_kept(analysed, unit):
    made = trial_of_rows(ordered(["abc", "cab"], minutes=61))
    kept = made.readings.frame.assign(at=made.readings.frame["at"].dt.as_unit(unit))
    given = dataclasses.replace(made, readings=dataclasses.replace(made.readings, frame=kept))
    assert analysed(given) == analysed(made)
    assert "far-apart" in codes(analysed(given))


def test_a_run_without_times_does_not_hide_that_the_others_lie_apart(analysed):
    rows = ordered(["abc", "cab"], minutes=61)
    some = [row if row["element"] != "b" else row | {"at": None} for row in rows]
    told = evidence(analysed(trial_of_rows(some)), "far-apart")
    assert told["rounds"] == [{"round": 1, "hours": pytest.approx(122 / 60)}]


def test_long_runs_take_their_time(analysed):
    rows = ordered(["abc", "cab"], minutes=61)
    assert "far-apart" in codes(analysed(trial_of_rows(rows, minutes_per_run=20)))
    document = analysed(trial_of_rows(rows, minutes_per_run=21))
    assert "far-apart" not in codes(document)


def test_one_round_far_apart_is_named_alone(analysed):
    rows = ordered(["abc", "cab"], minutes=30)
    late = [row | {"at": row["at"].replace("T09", "T19")} if row["round"] == 2 else row for row in rows]
    assert [entry["round"] for entry in evidence(analysed(trial_of_rows(late)), "far-apart")["rounds"]] == [2]


def test_the_same_order_in_every_round(analysed):
    found = caution(analysed(trial_of_rows(ordered(["abc"] * 5))), "order-fixed")
    told = found["evidence"]
    assert found["severity"] == "warning"
    assert told["always"] == [
        {"element": name, "place": place} for name, place in zip("abc", (1, 2, 3), strict=True)
    ]
    assert told["order_from"] == "times"
    assert told["orders"][4] == {"round": 5, "elements": ["a", "b", "c"]}
    assert told["p_value"] < 0.01


def test_an_order_that_agrees_too_well_without_being_the_same(analysed):
    orders = ["abcde", "abced", "bacde", "abdce", "acbde", "abced"]
    told = evidence(analysed(trial_of_rows(ordered(orders))), "order-fixed")
    assert told["always"] == []
    assert told["p_value"] < 0.01


def test_one_element_always_in_its_place(analysed):
    orders = ["abc", "cba", "abc", "cba", "abc", "cba"]
    told = evidence(analysed(trial_of_rows(ordered(orders))), "order-fixed")
    assert told["always"] == [{"element": "b", "place": 2}]
    assert "order-fixed" not in codes(analysed(trial_of_rows(ordered([*orders[:5], "bca"]))))


@pytest.mark.parametrize(("elements", "few", "enough"), [("ab", 5, 6), ("abc", 3, 4), ("abcd", 2, 3)])
def test_few_rounds_have_one_order_easily(analysed, elements, few, enough):
    assert "order-fixed" not in codes(analysed(trial_of_rows(ordered([elements] * few))))
    assert "order-fixed" in codes(analysed(trial_of_rows(ordered([elements] * enough))))


def test_a_shuffled_order_is_not_fixed(analysed):
    orders = ["abc", "bca", "cab", "cba", "acb", "bac"]
    assert "order-fixed" not in codes(analysed(trial_of_rows(ordered(orders))))


def test_the_order_of_rows_counts_only_where_nothing_else_tells(analysed):
    assert "order-fixed" not in codes(analysed(trial_of_rows(ordered(["abc"] * 6, given=("round",)))))
    told = evidence(analysed(trial_of_rows(ordered(["abc"] * 6, given=()))), "order-fixed")
    assert told["order_from"] == "order of rows"


def test_times_that_do_not_tell_two_runs_apart_tell_no_order(analysed):
    assert "order-fixed" not in codes(analysed(trial_of_rows(ordered(["abc"] * 6, minutes=0))))
