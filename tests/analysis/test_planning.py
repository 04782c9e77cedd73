"""Plans: rounds from the time there is, what they detect, what else would do, what is left of a trial."""

from collections import Counter

import pytest

from service.analysis.plan_facts import SoFar
from service.errors import BadInput
from service.trial.plan_question import PlanQuestion
from tests.analysis.made_plans import TRIAL, codes, planned, usual

KNOWN = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["27", "31", "43"], "from": "ten remounts"}


def few(count, **changes):
    return {"elements": [{"id": name, **changes} for name in "abcdefgh"[:count]], "reference": "a"}


def test_180_minutes_at_6_minutes_a_run_and_6_elements_give_5_rounds():
    found = usual()
    assert (found["rounds"], found["minutes"], found["rounds_that_fit"]) == (5, 180, 5)
    assert found["trial"]["planned_rounds"] == 5
    assert len(found["order"]) == 30
    assert [run["round"] for run in found["order"]] == [number for number in range(1, 6) for _ in range(6)]
    for number in range(1, 6):
        names = [run["element"] for run in found["order"] if run["round"] == number]
        assert sorted(names) == sorted(entry["id"] for entry in TRIAL["elements"])
    places = Counter((run["element"], run["place"]) for run in found["order"])
    assert max(places.values()) == 1


def test_the_minutes_of_a_mounting_come_on_top():
    found = planned(PlanQuestion(180, 4, minutes_per_mounting=5))
    assert (found["rounds"], found["minutes_per_run"], found["minutes"]) == (3, 9, 162)


def test_the_trial_may_say_how_long_a_run_takes():
    assert planned(PlanQuestion(180), minutes_per_run=10)["rounds"] == 3
    with pytest.raises(BadInput) as caught:
        planned(PlanQuestion(180))
    assert [fault.pointer for fault in caught.value.faults] == ["#/minutes_per_run"]


def test_no_more_rounds_are_planned_than_the_trial_says():
    found = planned(PlanQuestion(1000, 6), planned_rounds=6)
    assert (found["rounds"], found["rounds_that_fit"]) == (6, 27)
    assert "fewer-than-planned" not in codes(found)
    found = planned(planned_rounds=6)
    assert (found["rounds"], found["trial"]["planned_rounds"]) == (5, 6)
    assert codes(found)["fewer-than-planned"]["evidence"] == {"rounds": 5, "planned_rounds": 6}


def test_too_little_time_for_one_round_is_refused_with_the_remedy():
    with pytest.raises(BadInput) as caught:
        planned(PlanQuestion(20, 6))
    (fault,) = caught.value.faults
    assert fault.pointer == "#/minutes_available"
    assert "36 minutes" in fault.detail
    assert "3 take one round" in fault.detail


@pytest.mark.parametrize(
    "changes", [{"elements": [], "reference": None}, few(1), few(1) | {"elements": [
        {"id": "a"}, {"id": "b", "twin_of": "a"}]}],
)  # fmt: skip
def test_nothing_to_compare_is_refused(changes):
    with pytest.raises(BadInput) as caught:
        planned(**changes)
    assert [fault.pointer for fault in caught.value.faults] == ["#/trial/elements"]


def test_without_a_known_noise_differences_are_in_run_to_run_sd():
    found = usual()
    assert found["noise"] == {"sd": None, "degrees_of_freedom": None, "from": "not known"}
    assert found["difference_unit"] == "run-to-run sd"
    assert [row["difference"] for row in found["power"]] == [1.0, 1.5, 2.0, 3.0, 4.0, 6.0]
    assert "noise-not-known" in codes(found)
    worth = found["worthwhile"]
    assert worth["sd_at_most"] == pytest.approx(0.5 / found["detectable_difference"])
    assert (worth["difference"], worth["from"], worth["by_round"]) == (0.5, "margin", None)


def test_with_a_known_repeatability_they_are_in_meter_units():
    found = planned(PlanQuestion(180, 6, worthwhile_difference=1.0), known_repeatability=KNOWN)
    assert found["noise"] == {"sd": 0.2, "degrees_of_freedom": 9, "from": "known repeatability"}
    assert found["difference_unit"] == "bars"
    assert 1.0 in [row["difference"] for row in found["power"]]
    assert found["first_verdict_round"] == 1
    assert found["remount_study"] is None
    assert 0.4 < found["detectable_difference"] < 0.9
    assert found["worthwhile"]["by_round"] in {2, 3, 4}
    assert "noise-not-known" not in codes(found)


def test_a_step_as_large_as_the_worthwhile_difference_is_told_once():
    found = planned(PlanQuestion(180, 6, worthwhile_difference=0.605), known_repeatability=KNOWN)
    assert [row["difference"] for row in found["power"]] == pytest.approx([0.2, 0.3, 0.4, 0.605, 0.8, 1.2])


def test_the_power_curve_rises_to_the_detectable_difference():
    found = usual()
    last = {row["difference"]: row["by_round"][-1]["chance"] for row in found["power"]}
    assert list(last.values()) == sorted(last.values())
    assert last[3.0] < 0.8 < last[4.0]
    assert 3.0 < found["detectable_difference"] < 4.0
    assert [entry["round"] for entry in found["power"][0]["by_round"]] == [1, 2, 3, 4, 5]


def test_leaving_elements_out_brings_rounds_and_finer_differences():
    found = usual()
    assert [entry["drop"] for entry in found["shorter"]] == [
        ["tube-3"], ["tube-3", "steel-3"], ["tube-3", "steel-3", "brass-3-pad"]
    ]  # fmt: skip
    assert [entry["rounds"] for entry in found["shorter"]] == [6, 7, 10]
    differences = [found["detectable_difference"]] + [
        entry["detectable_difference"] for entry in found["shorter"]
    ]
    assert differences == sorted(differences, reverse=True)


def test_a_remount_study_and_one_scan_each_are_weighed():
    found = usual()["remount_study"]
    assert (found["element"], found["remounts"], found["then"]) == ("brass-3", 10, 1)
    assert (found["minutes"], found["fits"]) == (96, True)
    assert found["detectable_difference"] > 5  # "differences of about six sd"


def test_a_plan_that_cannot_settle_anything_says_so():
    found = planned(PlanQuestion(40, 10), **few(2))
    assert codes(found)["too-few-rounds"]["severity"] == "stop"
    assert found["detectable_difference"] is found["first_verdict_round"] is None
    assert "too-few-rounds" not in codes(planned(PlanQuestion(120, 10), **few(2)))


def test_the_seed_decides_the_order_and_is_told():
    orders = {seed: planned(PlanQuestion(180, 6, seed=seed)) for seed in (1, 2)}
    assert orders[1]["order"] != orders[2]["order"]
    assert orders[2]["seed"] == 2
    assert planned(seed=2)["order"] == orders[2]["order"]


def test_the_looks_of_the_trial_are_those_of_the_simulation():
    every, end = usual(), planned(looks="planned end")
    assert end["first_verdict_round"] == 5
    assert every["first_verdict_round"] == 3
    assert end["method"]["looks"] == "planned end"
    assert end["detectable_difference"] < every["detectable_difference"]


@pytest.mark.parametrize(
    ("changes", "raised"),
    [
        ({"reference": None}, {"no-reference"}),
        (few(3), {"no-control"}),
        ({"channels": []}, {"channels-not-named"}),
        (
            {"elements": [*TRIAL["elements"][:1], {**TRIAL["elements"][1], "diameter_mm": 4}]},
            {"geometry-differs", "several-things-differ"},
        ),
        ({"elements": [{"id": "brass-3"}, {"id": "b", "gauge": {"number": 13}}]}, {"gauge-table-unknown"}),
        ({"channels": [{"id": "27.1"}]}, {"displayed-numbers"}),
        ({"channels": [{"id": "27.1", "rf_channel": "27"}]}, {"displayed-numbers"}),
        ({"channels": [{"id": "Holm", "rf_channel": "99"}]}, {"displayed-numbers"}),
        ({"known_repeatability": {**KNOWN, "sd": 0.3}}, {"margin-below-repeatability"}),
    ],
)
def test_each_caution_is_raised_by_a_trial_that_calls_for_it_and_not_by_the_example(changes, raised):
    assert raised <= codes(planned(**changes)).keys()
    assert not raised & codes(usual()).keys()


def test_the_plan_asks_which_numbers_are_rf_channels():
    channels = [
        {"id": "27.1"}, {"id": "31.1", "rf_channel": "31"}, {"id": "Holm", "rf_channel": "99"},
        {"id": "Voe", "rf_channel": "43"}, {"id": "33.1", "rf_channel": "21"},
    ]  # fmt: skip
    asked = codes(planned(channels=channels))["displayed-numbers"]["evidence"]["channels"]
    assert [(entry["channel"], entry["why"]) for entry in asked] == [
        ("27.1", "not stated"), ("31.1", "as displayed"), ("Holm", "not in the region")
    ]  # fmt: skip


def test_what_is_worthwhile_may_be_out_of_reach_and_rounds_too_long():
    found = planned(PlanQuestion(180, 6, worthwhile_difference=0.1), known_repeatability=KNOWN)
    assert codes(found)["worthwhile-out-of-reach"]["evidence"]["worthwhile_difference"] == 0.1
    assert "long-rounds" not in codes(found)
    assert codes(planned(PlanQuestion(600, 40)))["long-rounds"]["evidence"]["hours"] == 4


def test_nothing_done_is_nothing_yet():
    assert planned(done=SoFar()) == usual()
