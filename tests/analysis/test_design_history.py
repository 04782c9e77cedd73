"""Design histories: outcome, trend and reasons; what is refused; the document whole."""

import json
from pathlib import Path

import jsonschema_rs
import numpy as np
import pytest
import statsmodels.api as sm
from scipy import stats

from reports.wording.design_history import complete
from service.analysis.design_history import design_history
from service.errors import BadInput
from tests.analysis.made_histories import DAYS, checked, creeping, dated_trial, question_of
from tests.analysis.made_trials import trial_of_rows

SCHEMA = Path(__file__).parents[2] / "openapi" / "design-history.schema.json"


@pytest.fixture(scope="module")
def asked(store):
    """Ask; every document must be as the schema says, before and after its sentences are filled in."""
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    validator = jsonschema_rs.Draft202012Validator(schema)

    def ask(trials, **given):
        there = checked(trials, store)
        document = design_history(question_of(there, **given), there)
        json.dumps(document, allow_nan=False)
        analyses = {trial.id: trial.document for trial in there}
        whole = complete(document, [analyses[entry["id"]] for entry in document["trials"]])
        for one in (document, whole):
            assert [f"{f.instance_path}: {f.message[:150]}" for f in validator.iter_errors(one)] == []
        assert list(document) == list(schema["properties"])
        assert whole["statement"]
        assert all(caution["message"] for caution in whole["cautions"])
        return whole

    return ask


@pytest.mark.parametrize(
    "case",
    [
        (0.8, 0.2, "creeps", "whip creeps down against brass: over 735 days"),
        (-0.8, 0.2, "creeps", "whip creeps up against brass"),
        (0.02, 0.2, "no creep beyond the margin", "by more than the margin of 1 dB"),
        (0.15, 0.1, "no creep beyond the margin", "That is a real change, too small to act on."),
        (0.2, 1.5, "needs more trials", "leaves open both no change at all and one beyond the margin"),
    ],
)
def test_each_outcome_can_be_reached(asked, case):
    step, sd, outcome, said = case
    document = asked(creeping(step, sd=sd))
    assert document["outcome"] == outcome
    assert said in document["statement"]
    reasons = [reason["code"] for reason in document["reasons"]]
    assert reasons == (["interval-too-wide"] if outcome == "needs more trials" else [])


def differences(made):
    """Whip less brass by round, from the readings themselves."""
    return np.array(
        [
            np.mean([row["value"] for row in made.rows if (row["element"], row["round"]) == ("whip", number)])
            - np.mean(
                [row["value"] for row in made.rows if (row["element"], row["round"]) == ("brass", number)]
            )
            for number in sorted({row["round"] for row in made.rows})
        ]
    )


def test_points_and_trend_are_those_of_the_readings(asked):
    trials = creeping(0.3)
    document = asked(trials)
    for point, made, day in zip(document["points"], trials, DAYS, strict=True):
        rounds = differences(made)
        ends = stats.ttest_1samp(rounds, 0.0).confidence_interval(0.95)
        assert point["date"] == f"{day}T13:22:30Z"
        assert point["difference"] == pytest.approx(rounds.mean(), abs=1e-9)
        assert (point["interval"]["low"], point["interval"]["high"]) == pytest.approx(tuple(ends), abs=1e-9)
    dates = np.array(DAYS, dtype="datetime64[D]")
    days = (dates - dates[0]).astype(float)
    fitted = sm.OLS([differences(made).mean() for made in trials], sm.add_constant(days)).fit()
    trend = document["trend"]
    assert trend["change"] == pytest.approx(fitted.params[1] * days[-1], abs=1e-9)
    assert trend["per_year"]["change"] == pytest.approx(fitted.params[1] * 365.25, abs=1e-9)
    least = tuple(fitted.conf_int(0.05)[1] * days[-1])
    assert trend["low"] <= least[0] + 1e-9
    assert trend["high"] >= least[1] - 1e-9
    assert (trend["line"][0]["days"], trend["line"][-1]["days"]) == (0.0, days[-1])
    assert trend["line"][-1]["value"] - trend["line"][0]["value"] == pytest.approx(trend["change"])


def test_then_and_now_is_the_difference_of_the_two_trials_with_welchs_interval(asked):
    trials = creeping(0.3)
    found = asked(trials)["first_to_last"]
    welch = stats.ttest_ind(differences(trials[-1]), differences(trials[0]), equal_var=False)
    ends = welch.confidence_interval(0.95)
    assert (found["low"], found["high"]) == pytest.approx((ends.low, ends.high), abs=1e-9)
    assert found["difference"] == pytest.approx((ends.low + ends.high) / 2, abs=1e-9)
    assert found["statement"].startswith(
        "The same element then and now: in the trial of 11 April 2026 whip read"
    )
    assert "a shift from one day to another would come on top" in found["statement"]


def test_the_order_in_which_trials_are_named_does_not_matter(store):
    there = checked(creeping(0.3), store)
    documents = [
        json.dumps(design_history(question_of(order), order))
        for order in (there, there[::-1], there[2:] + there[:2])
    ]
    assert len(set(documents)) == 1


def test_it_always_says_what_it_does_not_see(asked):
    not_seen = asked(creeping(0.3))["not_seen"]
    assert not_seen[0].startswith("A shift that the reference shares is not seen")
    assert any("Asked again after each further trial" in sentence for sentence in not_seen)


def test_margin_and_confidence_may_be_given_and_are_those_of_the_trials_else(asked):
    levels = (0.9, 0.95, 0.99, 0.9, 0.9)
    trials = [
        dated_trial({"whip": 20.0, "brass": 20.0}, day, confidence=level)
        for day, level in zip(DAYS, levels, strict=True)
    ]
    own = asked(trials)
    assert (own["margin"], own["margin_from"]) == (1.0, "trials")
    assert (own["confidence"], own["confidence_from"]) == (0.99, "trials")
    given = asked(trials, margin=0.4, confidence=0.8)
    assert (given["margin"], given["margin_from"]) == (0.4, "question")
    assert (given["confidence"], given["confidence_from"], given["trend"]["level"]) == (0.8, "question", 0.8)
    assert given["history_id"] != own["history_id"]


def test_signals_that_only_some_have_are_left_out_and_listed(asked):
    trials = creeping(0.3)
    short = [row for row in trials[2].rows if row["rf_channel"] != "24"]
    trials[2] = trial_of_rows(short, margin=1.0, elements=[{"id": "whip"}, {"id": "brass"}])
    document = asked(trials)
    assert document["rf_channels"]["used"] == ["21", "22", "23"]
    assert {one["rf_channel"] for one in document["rf_channels"]["left_out"]} == {"24"}
    assert sorted(one["trial"] for one in document["rf_channels"]["left_out"]) == [0, 1, 3, 4]


def test_another_element_that_moves_against_the_reference_stops_it(asked):
    trials = [
        dated_trial({"whip": 20.0, "brass": 20.0, "spare": 20.0 + 0.8 * place}, day, seed=place + 1)
        for place, day in enumerate(DAYS)
    ]
    document = asked(trials)
    (stop,) = [caution for caution in document["cautions"] if caution["severity"] == "stop"]
    assert (stop["code"], stop["trial"]) == ("reference-changed", None)
    assert "it may be brass that creeps" in stop["message"]
    assert document["outcome"] == "needs more trials"
    assert document["reasons"][0]["evidence"] == {
        "cautions": ["reference-changed"], "otherwise": "no creep beyond the margin",
    }  # fmt: skip
    still = creeping(0.0, others={"spare": 20.0})
    assert [one["code"] for one in asked(still)["cautions"] if one["severity"] == "stop"] == []


def test_a_stop_of_a_trial_that_touches_the_pair_stops_it(asked):
    trials = creeping(0.8, others={"spare": 17.0})
    elements = [{"id": "whip"}, {"id": "brass"}, {"id": "spare", "twin_of": "whip"}]
    trials[1] = trial_of_rows(trials[1].rows, margin=1.0, elements=elements)
    document = asked(trials)
    assert document["outcome"] == "needs more trials"
    assert document["reasons"][0]["evidence"] == {"cautions": ["twin-differs"], "otherwise": "creeps"}
    assert [one["trial"] for one in document["cautions"] if one["code"] == "twin-differs"] == [1]


def test_struck_runs_are_put_back_beside(asked):
    trials = creeping(0.02)
    assert asked(trials)["with_struck"] is None
    knocked = [
        row | ({"value": row["value"] - 40} if (row["element"], row["round"]) == ("whip", 3) else {})
        for row in trials[4].rows
    ]
    struck = [{"element": "whip", "round": 3, "reason": "knocked"}]
    elements = [{"id": "whip"}, {"id": "brass"}]
    trials[4] = trial_of_rows(knocked, margin=1.0, elements=elements, struck=struck)
    document = asked(trials)
    assert (document["outcome"], document["with_struck"]) == (
        "no creep beyond the margin",
        "needs more trials",
    )
    assert document["points"][4]["rounds"] == 5
    assert "put back it would say: needs more trials" in document["statement"]


def without_times(made):
    rows = [{name: value for name, value in row.items() if name != "at"} for row in made.rows]
    return trial_of_rows(rows, margin=1.0, elements=[{"id": "whip"}, {"id": "brass"}])


def refusals(store, trials, **given):
    there = checked(trials, store)
    with pytest.raises(BadInput) as refused:
        design_history(question_of(there, **given), there)
    return [(fault.pointer, fault.detail) for fault in refused.value.faults]


def test_what_cannot_be_asked_is_refused_with_place_and_remedy(store):
    good = creeping(0.1)
    both = {"whip": 20.0, "brass": 20.0}
    cases = [
        (without_times(good[1]), {}, "#/trials/1", "has no date. Send its readings again with `at`"),
        (dated_trial({"whip": 20.0, "zinc": 20.0}, DAYS[1]), {}, "#/trials/1", "no element 'brass'"),
        (dated_trial(both, DAYS[1], rounds=1), {}, "#/trials/1", "2 are the fewest. Add rounds, or leave"),
        (dated_trial(both, DAYS[1], meter={"unit": "dBm"}), {}, "#/trials/1", "unit is dBm here and dB in"),
        (dated_trial(both, DAYS[1], margin=0.5), {}, "#/margin", "different margins (0.5, 1); give one"),
        (good[1], {"reference": "whip"}, "#/reference", "must be another element"),
        (
            good[1],
            {"element": "gone"},
            "#/element",
            "None of these trials holds it; all of them hold whip, brass.",
        ),
    ]
    for other, given, place, said in cases:
        found = refusals(store, [good[0], other, good[2]], **given)
        assert any(pointer == place and said in detail for pointer, detail in found), found


def test_trials_of_one_date_or_without_a_common_signal_are_refused(store):
    same = [dated_trial({"whip": 20.0, "brass": 20.0}, DAYS[0], seed=seed) for seed in (1, 1, 1)]
    assert refusals(store, same) == [
        ("#/trials", "All these trials have the same date; a trend needs several.")
    ]
    apart = [
        trial_of_rows(
            [row | {"channel": f"{row['channel']}-{place}", "rf_channel": f"{row['rf_channel']}{place}"}
             for row in made.rows],
            margin=1.0,
        )
        for place, made in enumerate(creeping(0.1)[:3])
    ]  # fmt: skip
    ((place, said),) = refusals(store, apart)
    assert (place, said.startswith("No RF channel has a level in every one")) == ("#/trials", True)


def test_a_trial_whose_runs_have_times_in_part_is_dated_by_those(asked):
    trials = creeping(0.1)
    rows = [row | ({"at": None} if row["round"] > 1 else {}) for row in trials[0].rows]
    trials[0] = trial_of_rows(rows, margin=1.0, elements=[{"id": "whip"}, {"id": "brass"}])
    assert asked(trials)["points"][0]["date"] == f"{DAYS[0]}T12:07:30Z"
