"""Plans that go on from readings: the missing rounds, their numbers, and how likely they settle it."""

import numpy as np

from service.analysis.plan_facts import so_far
from service.analysis.planning import plan
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.settings import Limits
from service.trial.plan_question import PlanQuestion
from tests.analysis.made_plans import STORE, TRIAL, codes, planned


def continued(text, **changes):
    trial, readings = read_batch(
        text.encode(), "text/csv", trial={**TRIAL, **changes}, marks=Marks(), limits=Limits()
    )
    return plan(trial, PlanQuestion(180, 6), so_far(trial, readings), store=STORE)


def table(rounds, *, left_out=()):
    lines = ["element,round,channel,value"]
    for number in range(1, rounds + 1):
        for place, entry in enumerate(TRIAL["elements"]):
            if (entry["id"], number) not in left_out:
                value = 3 + (place * number) % 4
                lines += [f"{entry['id']},{number},{channel['id']},{value}" for channel in TRIAL["channels"]]
    return "\n".join(lines)


def test_of_a_one_scan_file_only_the_missing_rounds_are_planned():
    found = continued(table(1))
    assert (found["rounds_done"], found["first_round"], found["rounds"]) == (1, 2, 5)
    assert {run["round"] for run in found["order"]} == {2, 3, 4, 5, 6}
    assert found["trial"]["planned_rounds"] == 6
    assert found["remount_study"]["then"] == 0
    assert found["shorter"] == []


def test_rounds_with_gaps_are_planned_anew_and_told():
    found = continued(table(3, left_out={("steel-3", 3)}), planned_rounds=4)
    assert (found["rounds_done"], found["first_round"], found["rounds"]) == (2, 4, 2)
    assert codes(found)["rounds-with-gaps"]["evidence"]["missing"] == [{"element": "steel-3", "round": 3}]


def test_the_readings_so_far_tell_the_noise_and_a_done_plan_has_no_runs_left():
    found = continued(table(3), planned_rounds=3)
    assert found["noise"]["from"] == "readings so far"
    assert found["noise"]["sd"] > 0
    assert found["noise"]["degrees_of_freedom"] == 10
    assert (found["rounds"], found["order"], found["minutes"]) == (0, [], 0)
    assert "plan-done" in codes(found)
    assert found["remount_study"] is None


def struck(*rounds):
    return [
        {"element": entry["id"], "round": number, "reason": "gale"}
        for number in rounds
        for entry in TRIAL["elements"]
    ]


def test_the_number_of_a_round_that_was_struck_whole_is_not_given_again():
    found = continued(table(3), planned_rounds=5, struck=struck(3))
    assert (found["rounds_done"], found["first_round"], found["rounds"]) == (2, 4, 3)
    assert {run["round"] for run in found["order"]} == {4, 5, 6}
    assert "rounds-with-gaps" not in codes(found)


def test_where_every_round_was_struck_the_plan_begins_anew_behind_them():
    found = continued(table(2), planned_rounds=3, struck=struck(1, 2))
    assert (found["rounds_done"], found["first_round"], found["rounds"]) == (0, 3, 3)
    assert found["settling"] is None


def scattered(rounds, *, ahead=0.0):
    """Readings in which the first element is ahead, with whole bars of noise."""
    rng = np.random.default_rng(4)
    lines = ["element,round,channel,value"]
    for number in range(1, rounds + 1):
        for place, entry in enumerate(TRIAL["elements"]):
            value = round(4 + ahead * (place == 0) + rng.normal(0, 0.5), 1)
            lines += [f"{entry['id']},{number},{channel['id']},{value}" for channel in TRIAL["channels"]]
    return "\n".join(lines)


def test_going_on_the_chance_of_a_verdict_is_given_the_readings_there_are():
    meter = {"meter": {"unit": "bars", "highest": 10, "resolution": 0.1}}
    chances = []
    for ahead in (1.0, 2.0):
        found = continued(scattered(3, ahead=ahead), planned_rounds=6, **meter)["settling"]
        assert (found["outcome"], found["why"]) == ("needs more runs", None)
        assert [entry["round"] for entry in found["by_round"]] == [4, 5, 6]
        chances.append(found["by_round"][-1]["chance"])
    assert chances[0] < chances[1]
    assert 0 < chances[1] <= 1


def test_what_is_settled_already_is_said_and_so_is_that_one_scan_tells_no_noise():
    meter = {"meter": {"unit": "bars", "highest": 10, "resolution": 0.1}}
    settled = continued(scattered(4, ahead=5.0), planned_rounds=6, **meter)["settling"]
    assert settled == {"outcome": "clear winner", "by_round": [], "why": "settled", "trials": 0}
    assert continued(table(1))["settling"]["why"] == "no noise"
    assert planned()["settling"] is None
    assert continued(table(3), planned_rounds=3)["settling"] is None


def test_elements_that_only_readings_name_are_planned_too():
    found = continued(table(1) + "\nnew-rod,1,Holm Light,4")
    assert found["elements"][-1] == {"id": "new-rod", "label": "new-rod", "role": "competes"}


def test_readings_that_differ_by_rounding_alone_tell_no_noise():
    lines = ["element,round,channel,value"]
    for number in (1, 2, 3):
        for place, entry in enumerate(TRIAL["elements"]):
            value = 0.1 * place + 0.7 * number
            lines += [f"{entry['id']},{number},{channel['id']},{value!r}" for channel in TRIAL["channels"]]
    found = continued("\n".join(lines), meter={"unit": "dB"}, margin=0.1)
    assert found["noise"] == {"sd": None, "degrees_of_freedom": None, "from": "not known"}
