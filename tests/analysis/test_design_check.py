"""Design checks: outcome, limits and reasons, in one trial and through a reference; the document whole."""

import json
from itertools import combinations
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from scipy import stats

from reports.checks.view import rule
from reports.wording.design_check import complete
from service.analysis.analyse import analysed as analyse_whole
from service.analysis.design_check import CheckedTrial, Design, Question, design_check
from service.errors import BadInput
from tests.analysis.made_trials import made_trial, noisy_scores, trial_of_rows

SCHEMA = json.loads(
    (Path(__file__).parents[2] / "openapi" / "design-check.schema.json").read_text(encoding="utf-8")
)


@pytest.fixture(scope="session")
def checked(store):
    """Ask; every document must be as the schema says, before and after its sentences are filled in."""
    validator = jsonschema.Draft202012Validator(SCHEMA)

    def ask(trials, baseline, candidates, **more):
        histories = more.pop("histories", [None] * len(trials))
        there = [
            CheckedTrial(analyse_whole(made.trial, made.readings, store=store, history=history))
            for made, history in zip(trials, histories, strict=True)
        ]
        document = design_check(Question(baseline, tuple(candidates), **more), there, store=store)
        json.dumps(document, allow_nan=False)
        whole = complete(document, [one.document for one in there])
        for one in (document, whole):
            assert [f"{list(f.path)}: {f.message[:150]}" for f in validator.iter_errors(one)] == []
        assert list(document) == list(SCHEMA["properties"])
        assert all(check["statement"] and check["reception_statement"] for check in whole["checks"])
        return whole

    return ask


def made(means, *, rounds=8, sd=0.2, seed=1, **fields):
    return made_trial(noisy_scores(means, rounds=rounds, sd=sd, seed=seed), **{"margin": 1.0} | fields)


def one(name, trial=0):
    return Design((name,), trial)


@pytest.mark.parametrize(
    "case",
    [
        (0.1, 8, "holds", 0),
        (3.0, 8, "falls short", 0),
        (1.0, 8, "needs more runs", None),
        (0, 5, "needs more runs", 1),
    ],
)
def test_in_one_trial_each_outcome_can_be_reached(checked, case):
    worse, rounds, outcome, more = case
    (check,) = checked([made({"a": 20.0, "b": 20.0 - worse}, rounds=rounds)], one("a"), [one("b")])["checks"]
    assert check["outcome"] == outcome
    assert (check["more_rounds"] == more) or more is None
    assert (check["decided_at_round"] is None) == (outcome == "needs more runs")
    assert check["rounds"] == rounds
    assert check["limits"]["level"] == pytest.approx(0.95)


def test_the_limits_are_those_of_the_round_differences(checked):
    """At 2 alpha = 0.1 two steps are allowed at round 6: floor(0.8 x 0.1 x 2^6 / 2)."""
    scores = {"a": [20.0, 21, 20, 22, 20, 21], "b": [20.1, 20.8, 20.3, 22.2, 19.7, 21.4]}
    (check,) = checked([made_trial(scores, margin=1.0)], one("a"), [one("b")])["checks"]
    differences = np.subtract(scores["b"], scores["a"])
    assert check["difference"] == pytest.approx(differences.mean())
    means = sorted(np.mean(part) for size in range(1, 7) for part in combinations(differences, size))
    assert check["limits"]["low"] == pytest.approx(means[1])
    assert check["limits"]["high"] == pytest.approx(means[-2])
    reference = stats.permutation_test(
        (differences + 1.0,), np.mean, permutation_type="samples", alternative="greater", n_resamples=np.inf
    )
    assert check["p_value"] == pytest.approx(reference.pvalue)


def test_one_round_and_no_signal_give_a_document(checked):
    (check,) = checked([made({"a": 20.0, "b": 20.0}, rounds=1)], one("a"), [one("b")])["checks"]
    assert check["limits"] == {"low": None, "high": None, "level": 0.95}
    full = made_trial({"a": [10.0] * 7, "b": [10.0] * 7}, signals=1, meter={"unit": "bars", "highest": 10})
    rows = [row | {"value": 10.0} for row in full.rows]

    flat = trial_of_rows(rows, meter={"unit": "bars", "highest": 10})
    (check,) = checked([flat], one("a"), [one("b")])["checks"]
    assert [reason["code"] for reason in check["reasons"]] == ["no-level"]


def test_several_candidates_share_the_error_by_holms_steps(checked):
    trial = made({"a": 20.0, "b": 20.0, "c": 19.9, "d": 16.0}, rounds=10)
    document = checked([trial], one("a"), [one("b"), one("c"), one("d")])
    assert [check["outcome"] for check in document["checks"]] == ["holds", "holds", "falls short"]
    assert document["outcome"] == "falls short"
    assert document["method"]["steps"] == pytest.approx([0.05 / 3, 0.05 / 2, 0.05])
    assert {check["limits"]["level"] for check in document["checks"]} == {1 - document["method"]["alpha"] / 3}


def test_samples_of_a_batch_bring_their_own_spread(checked):
    means = {"a": 20.0, "b1": 20.2, "b2": 19.8, "b3": 20.0, "b4": 20.1}
    (check,) = checked([made(means)], one("a"), [Design(("b1", "b2", "b3", "b4"))])["checks"]
    assert (check["outcome"], check["method"]) == ("holds", "Welch, over samples")
    wide = {"a": 20.0, "b1": 22.0, "b2": 18.0, "b3": 20.0, "b4": 20.1}
    (check,) = checked([made(wide)], one("a"), [Design(("b1", "b2", "b3", "b4"))])["checks"]
    assert check["outcome"] == "needs more runs"
    (check,) = checked([made(means)], one("a"), [Design(("b1", "b2"))])["checks"]
    assert check["limits"]["low"] is None


def test_through_the_reference_as_scipys_welch_test_has_it(checked):
    now, then = made({"r": 20.0, "new": 19.8}, seed=2, rounds=5), made({"r": 24.0, "old": 24.1}, rounds=9)
    document = checked([then, now], one("old"), [one("new", 1)], reference="r")
    (check,) = document["checks"]
    parts = [
        np.subtract(*(made_scores(trial, name) for name in (element, "r")))
        for trial, element in ((now, "new"), (then, "old"))
    ]
    reference = stats.ttest_ind(*parts, equal_var=False).confidence_interval(0.90)
    limits = (check["limits"]["low"], check["limits"]["high"])
    assert limits == pytest.approx((reference.low, reference.high), rel=1e-9)
    assert (check["outcome"], check["rounds"], check["baseline_rounds"]) == ("holds", 5, 9)
    assert "does not share" in document["not_seen"][0]
    assert "it came to 6 of 100" in rule(document)
    assert "it came to" not in rule(document | {"reference": None})
    assert [caution["code"] for caution in document["cautions"]].count("safety") == 1
    assert [
        caution["severity"] for caution in document["cautions"] if caution["code"] == "unplanned-looks"
    ] == ["note"]


def made_scores(trial, element):
    rounds = sorted({row["round"] for row in trial.rows})
    return [
        np.mean([row["value"] for row in trial.rows if (row["element"], row["round"]) == (element, number)])
        for number in rounds
    ]


def test_the_same_element_then_and_now_is_allowed(checked):
    trials = [made({"r": 20.0, "whip": 20.0}), made({"r": 21.0, "whip": 17.0}, seed=2)]
    (check,) = checked(trials, one("whip"), [one("whip", 1)], reference="r")["checks"]
    assert check["outcome"] == "falls short"


def test_signals_of_one_trial_only_are_left_out_and_listed(checked):
    then = made_trial(noisy_scores({"r": 20.0, "old": 20.0}, rounds=6, sd=0.2), margin=1.0, signals=5)
    document = checked([then, made({"r": 20.0, "new": 20.0})], one("old"), [one("new", 1)], reference="r")
    assert document["rf_channels"]["used"] == ["21", "22", "23", "24"]
    (left,) = document["rf_channels"]["left_out"]
    assert (left["rf_channel"], left["trial"]) == ("25", 0)


def test_a_shared_element_that_moved_against_the_reference_stops_everything(checked):
    then = made({"r": 20.0, "other": 20.0, "old": 20.0})
    moved = made({"r": 20.0, "other": 22.0, "new": 20.0}, seed=2)
    document = checked([then, moved], one("old"), [one("new", 1)], reference="r")
    (stop,) = [caution for caution in document["cautions"] if caution["severity"] == "stop"]
    assert (stop["code"], stop["candidates"]) == ("reference-changed", ["new"])
    assert document["outcome"] == "needs more runs"
    assert document["checks"][0]["reasons"][0]["evidence"]["otherwise"] == "holds"
    still = made({"r": 20.0, "other": 20.0, "new": 20.0}, seed=2)
    assert checked([then, still], one("old"), [one("new", 1)], reference="r")["outcome"] == "holds"


def test_a_stop_of_the_trial_that_touches_the_pair_stops_the_check(checked):
    means = {"a": 20.0, "b": 20.0, "spare": 17.0}
    elements = [{"id": "spare", "twin_of": "a"}]
    document = checked([made(means, elements=elements)], one("a"), [one("b")])
    (check,) = document["checks"]
    assert (check["outcome"], check["more_rounds"], check["decided_at_round"]) == (
        "needs more runs",
        None,
        None,
    )
    assert check["reasons"][0]["code"] == "stopped"
    assert "twin-differs" in check["reasons"][0]["evidence"]["cautions"]


def test_cautions_about_other_elements_are_not_told(checked):
    means = {"a": 20.0, "b": 20.0, "c": 20.0}
    elements = [{"id": "c", "gauge": {"table": None, "number": 13}}]
    codes = [c["code"] for c in checked([made(means, elements=elements)], one("a"), [one("b")])["cautions"]]
    assert "gauge-table-unknown" not in codes
    assert "safety" in codes


def test_reception_is_a_criterion_of_its_own(checked):

    rows = made({"a": 20.0, "b": 20.0}).rows
    gone = [
        row
        | (
            {"value": None, "received": False}
            if (row["element"], row["channel"], row["round"]) == ("b", "s1", 4)
            else {}
        )
        for row in rows
    ]
    (check,) = checked([trial_of_rows(gone, margin=1.0)], one("a"), [one("b")])["checks"]
    assert check["outcome"] == "holds"
    assert (check["reception"]["outcome"], check["reception"]["lost"]) == ("falls short", ["22"])
    assert check["reception"]["lost_runs"] == [{"rf_channel": "22", "received_runs": 7, "scanned_runs": 8}]


def test_struck_runs_are_put_back_beside(checked):
    scores = {"a": [20.0] * 9, "b": [20.1, 19.9, 20.2, 20.0, 19.8, 20.1, 20.0, 19.9, 8.0]}
    struck = [{"element": "b", "round": 9, "reason": "knocked"}]
    (check,) = checked([made_trial(scores, margin=1.0, struck=struck)], one("a"), [one("b")])["checks"]
    assert (check["outcome"], check["with_struck"], check["rounds"]) == ("holds", "holds", 8)


@pytest.mark.parametrize(
    "case",
    [
        (one("zz"), [one("b")], {}, "#/candidates", "there are a, b, r"),
        (one("a"), [one("a")], {}, "#/candidates", "named already"),
        (one("a"), [one("b"), one("b")], {}, "#/candidates", "named already"),
        (one("a"), [one("b"), one("new", 1)], {"reference": "r"}, "#/candidates", "two checks"),
        (one("a"), [one("new", 1)], {}, "#/reference", "both hold: r"),
        (one("a"), [one("new", 1)], {"reference": "b"}, "#/reference", "not in every trial"),
        (one("a"), [one("r", 1)], {"reference": "r"}, "#/reference", "another element"),
        (one("a"), [Design(("new", "r"), 1)], {"reference": "r"}, "#/candidates", "within one trial"),
        (one("a"), [one("bars", 2)], {"reference": "r"}, "#/candidates", "unit is bars here and dB"),
        (one("a"), [one("new", 3)], {"reference": "r"}, "#/margin", "0.5, 1"),
    ],
)
def test_what_cannot_be_asked_is_refused_with_the_place(checked, case):
    baseline, candidates, more, place, said = case
    trials = [
        made({"a": 20.0, "b": 20.0, "r": 20.0}),
        made({"new": 20.0, "r": 20.0}),
        made({"bars": 5.0, "r": 5.0}, meter={"unit": "bars"}),
        made({"new": 20.0, "r": 20.0}, margin=0.5),
    ]
    with pytest.raises(BadInput) as refused:
        checked(trials, baseline, candidates, **more)
    assert any(fault.pointer == place and said in fault.detail for fault in refused.value.faults), [
        (fault.pointer, fault.detail) for fault in refused.value.faults
    ]
