"""Cautions about rounds and plans: each raised, and each just not raised."""

import pytest

from service.analysis.cautions import FINDERS
from tests.analysis.made_trials import Row, made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import caution, codes, evidence, reasons

THREE = {"a": 12.0, "b": 8.0, "c": 7.9}
KNOWN = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["21", "22", "23", "24"], "from": "ten remounts"}


def rounds(number: int, **fields):
    return made_trial(noisy_scores(THREE, rounds=number, sd=0.2), **fields)


def timed(order: str, *, rows_per_run: int = 4) -> list[Row]:
    """Runs without round or mounting, told by their times only, in the order of the letters."""
    return [
        {
            "element": name,
            "channel": f"s{c}",
            "rf_channel": str(c),
            "value": 5.0 + c + 0.1 * at,
            "at": f"2025-05-10T08:{at:02}:00Z",
        }
        for at, name in enumerate(order)
        for c in range(rows_per_run)
    ]


def test_every_caution_stands_in_the_schema_in_the_same_order(schema):
    names = [finder.__name__.replace("_", "-") for finder in FINDERS]
    assert names == schema["$defs"]["caution"]["properties"]["code"]["enum"]


def test_one_round(analysed):
    document = analysed(rounds(1))
    assert evidence(document, "one-round") == {
        "rounds_done": 1,
        "fewest_rounds": 3,
        "known_noise": False,
        "most_mountings": 1,
    }
    assert caution(document, "one-round")["severity"] == "warning"
    assert "few-rounds" not in codes(document)
    assert "one-round" not in codes(analysed(rounds(2)))


@pytest.mark.parametrize(("done", "severity"), [(2, "warning"), (5, "note")])
def test_few_rounds(analysed, done, severity):
    found = caution(analysed(rounds(done)), "few-rounds")
    assert found["severity"] == severity
    assert found["evidence"] == {
        "rounds_done": done,
        "planned_rounds": 6,
        "fewest_rounds": 3,
        "known_noise": False,
    }


def test_one_or_two_rounds_with_a_known_noise_are_said_to_be_judged_by_it(analysed):
    one = analysed(rounds(1, known_repeatability=KNOWN))
    assert caution(one, "one-round")["severity"] == "note"
    assert evidence(one, "one-round")["known_noise"] is True
    assert evidence(one, "one-round")["fewest_rounds"] == 1
    two = caution(analysed(rounds(2, known_repeatability=KNOWN)), "few-rounds")
    assert (two["severity"], two["evidence"]["known_noise"]) == ("note", True)
    three = caution(analysed(rounds(3, known_repeatability=KNOWN)), "few-rounds")
    assert three["evidence"]["known_noise"] is False


def test_mountings_within_the_one_round_are_counted(analysed):
    rows = [row | {"round": 1, "mounting": f"m{row['round']}"} for row in rows_of({"a": [1, 2], "b": [3, 4]})]
    assert evidence(analysed(trial_of_rows(rows)), "one-round")["most_mountings"] == 2


def test_the_planned_rounds_are_not_few(analysed):
    assert "few-rounds" not in codes(analysed(rounds(6)))


def test_rounds_as_planned_are_few_where_the_rule_can_decide_nothing_yet(analysed):
    scores = noisy_scores({"a": 12.0, "b": 8.0}, rounds=4, sd=0.2)
    document = analysed(made_trial(scores, planned_rounds=4))
    fewest = document["verdict"]["fewest_rounds"]
    assert fewest > 4
    assert caution(document, "few-rounds")["severity"] == "warning"


def test_one_mounting_with_many_scans_stops(analysed):
    document = analysed(trial_of_rows(timed("aaabbbb")))
    found = caution(document, "one-mounting")
    assert found["severity"] == "stop"
    assert found["evidence"] == {
        "elements": ["a", "b"],
        "scans": 7,
        "pairs_touched": [["a", "b"]],
        "pairs_standing": [],
    }
    assert reasons(document)[0] == "stopped"


def test_one_scan_of_each_is_not_many_scans(analysed):
    assert "one-mounting" not in codes(analysed(trial_of_rows(timed("ab"))))


def test_another_element_in_between_makes_a_fresh_mounting(analysed):
    document = analysed(trial_of_rows(timed("abab")))
    assert "one-mounting" not in codes(document)
    assert document["verdict"]["rounds_done"] == 2


def test_a_mounting_that_goes_on_from_round_to_round_stops_its_pairs_alone(analysed):
    scores = noisy_scores(THREE, rounds=6, sd=0.1)
    rows = [
        row | {"mounting": "only" if row["element"] == "c" else f"{row['round']}"} for row in rows_of(scores)
    ]
    document = analysed(trial_of_rows(rows))
    assert evidence(document, "one-mounting") == {
        "elements": ["c"],
        "scans": 6,
        "pairs_touched": [["a", "c"], ["b", "c"]],
        "pairs_standing": [["a", "b"]],
    }
    verdict = document["verdict"]
    assert (verdict["outcome"], verdict["winner"]) == ("needs more runs", None)
    assert (verdict["decided_at_round"], verdict["more_rounds"], verdict["more_rounds_safe"]) == (
        None,
        None,
        None,
    )
    assert verdict["reasons"][0]["evidence"] == {
        "cautions": ["one-mounting"],
        "pairs_touched": [["a", "c"], ["b", "c"]],
        "pairs_standing": [["a", "b"]],
    }


def test_the_same_trial_mounted_afresh_is_settled(analysed):
    scores = noisy_scores(THREE, rounds=6, sd=0.1)
    document = analysed(trial_of_rows([row | {"mounting": f"{row['round']}"} for row in rows_of(scores)]))
    assert document["verdict"]["winner"] == "a"


def test_a_known_repeatability_makes_one_mounting_enough(analysed):
    rows = [row | {"run": run} for run in "12" for row in rows_of({"a": [12.0], "b": [7.0]})]
    assert "one-mounting" in codes(analysed(trial_of_rows(rows)))
    document = analysed(trial_of_rows(rows, known_repeatability=KNOWN))
    assert "one-mounting" not in codes(document)
    assert document["verdict"]["winner"] == "a"


@pytest.mark.parametrize(
    ("drop", "source", "severity"),
    [
        (("round",), "mountings", "note"),
        (("round", "mounting"), "times", "note"),
        (("round", "mounting", "at"), "order of rows", "warning"),
    ],
)
def test_rounds_inferred(analysed, drop, source, severity):
    rows = []
    for minute, letter in enumerate("abab"):
        rows += [
            {key: value for key, value in row.items() if key not in drop}
            for row in rows_of({letter: [5.0 + 0.3 * minute]})
            for row in [
                row
                | {"mounting": f"m{minute}", "at": f"2025-05-10T08:0{minute}:00Z", "round": 1 + minute // 2}
            ]
        ]
    found = caution(analysed(trial_of_rows(rows)), "rounds-inferred")
    assert (found["evidence"], found["severity"]) == ({"from": source}, severity)


def test_rounds_given_are_not_inferred(analysed):
    assert "rounds-inferred" not in codes(analysed(rounds(2)))


def test_incomplete_rounds(analysed):
    scores = noisy_scores(THREE, rounds=6, sd=0.2)
    scores["b"][3] = None
    document = analysed(made_trial(scores))
    assert document["method"]["design"] == "incomplete rounds"
    assert evidence(document, "incomplete-rounds") == {
        "missing": [{"element": "b", "round": 4}],
        "not_judged": [],
    }
    assert "incomplete-rounds" not in codes(analysed(rounds(6)))


def test_incomplete_rounds_name_who_could_not_be_judged(analysed):
    scores = noisy_scores(THREE, rounds=6, sd=0.2)
    scores["c"][1:] = [None] * 5
    document = analysed(made_trial(scores))
    assert evidence(document, "incomplete-rounds")["not_judged"] == ["c"]


def test_plan_not_stated(analysed):
    assert evidence(analysed(rounds(7)), "plan-not-stated") == {"rounds_done": 7, "planned_rounds": 6}
    assert "plan-not-stated" not in codes(analysed(rounds(6)))
    assert "plan-not-stated" not in codes(analysed(rounds(7, planned_rounds=6)))


def test_unplanned_looks(analysed):
    document = analysed(rounds(4, planned_rounds=3, looks="planned end"))
    assert evidence(document, "unplanned-looks") == {
        "planned_rounds": 3,
        "rounds_done": 4,
        "promise": pytest.approx(0.06),
    }
    assert "unplanned-looks" not in codes(analysed(rounds(3, planned_rounds=3, looks="planned end")))
    assert "unplanned-looks" not in codes(analysed(rounds(4, planned_rounds=3)))


def test_rests_on_known_repeatability(analysed):
    document = analysed(made_trial({"a": [12.0], "b": [7.0]}, known_repeatability=KNOWN))
    assert evidence(document, "rests-on-known-repeatability") == {
        "sd": pytest.approx(0.2),
        "degrees_of_freedom": 9.0,
        "from": "ten remounts",
        "source": "known",
        "rounds": 1,
    }
    short = made_trial({"a": [12.0], "b": [7.0]}, known_repeatability=KNOWN | {"degrees_of_freedom": 8})
    assert "rests-on-known-repeatability" not in codes(analysed(short))


def test_rests_on_repeats_of_this_trial(analysed):
    scores = noisy_scores({"a": 12.0, "b": 7.0}, rounds=6, sd=0.1)
    rows = [row | {"round": 1, "mounting": f"m{row['round']}"} for row in rows_of(scores)]
    told = evidence(analysed(trial_of_rows(rows)), "rests-on-known-repeatability")
    assert told["from"] == "mountings repeated within a round of this trial"
    assert (told["degrees_of_freedom"], told["source"]) == (10, "this trial")


def test_a_decision_by_a_known_noise_is_said_to_rest_on_it_as_long_as_it_stands(analysed):
    scores = {"a": [12.0, 9.0, 8.0], "b": [7.0, 9.1, 8.3], "c": [6.9, 9.2, 7.9]}
    document = analysed(made_trial(scores, known_repeatability=KNOWN))
    assert (document["verdict"]["winner"], document["verdict"]["decided_at_round"]) == ("a", 1)
    told = evidence(document, "rests-on-known-repeatability")
    assert (told["sd"], told["source"], told["rounds"]) == (pytest.approx(0.2), "known", 1)
    later = noisy_scores(THREE, rounds=6, sd=0.2)
    assert "rests-on-known-repeatability" not in codes(analysed(made_trial(later, known_repeatability=KNOWN)))


def test_elements_that_no_round_joins_are_told_apart_by_nothing(analysed):
    nothing = None
    apart = {"a": [1.0, 2.0, 1.5, *[nothing] * 3], "b": [1.1, 2.2, 1.4, *[nothing] * 3]}
    other = {"c": [*[nothing] * 3, 2.0, 3.0, 2.5], "d": [*[nothing] * 3, 2.2, 3.1, 2.4]}
    document = analysed(made_trial(apart | other))
    assert evidence(document, "not-connected") == {"groups": [["a", "b"], ["c", "d"]]}
    joined = other | {"c": [nothing, nothing, 1.9, 2.0, 3.0, 2.5]}
    assert "not-connected" not in codes(analysed(made_trial(apart | joined)))


def test_an_element_that_was_never_run_is_no_group(analysed):
    document = analysed(made_trial({"a": [1.0, 2.0], "b": [1.1, 2.2], "z": [None, None]}))
    assert "not-connected" not in codes(document)


def test_safety_is_always_said(analysed):
    assert caution(analysed(rounds(6)), "safety") == {
        "code": "safety",
        "severity": "note",
        "message": None,
        "evidence": {},
    }
    assert codes(analysed(rounds(1)))[-1] == "safety"
