"""The document as a whole: its parts and their order, plain values, the same for any order of rows."""

import copy
import dataclasses
import json
import random

import jsonschema
import pytest

from service.analysis import analyse
from service.errors import BadInput
from tests.analysis.made_trials import BARS, made_trial, noisy_scores, rows_of, trial_of_rows

PARTS = [
    *("format", "trial", "read_as", "provenance", "verdict", "elements", "pairs", "all_equal", "one_scan"),
    *("repeatability", "drift", "reception", "bands", "channels", "conductor_loss", "value_pick"),
    *("struck", "looks", "history", "cautions", "method"),
]
SCORES = noisy_scores({"a": 20.0, "b": 18.0, "c": 17.9}, rounds=6, sd=0.2)


def test_the_parts_stand_in_their_order(analysed):
    assert list(analysed(made_trial(SCORES))) == PARTS


def test_without_region_and_needed_level_their_parts_are_null_and_sentences_are_left_open(analysed):
    document = analysed(made_trial(SCORES))
    assert document["bands"] is document["reception"]["headroom"] is None
    assert {channel["band"] for channel in document["channels"]} == {None}
    assert {caution["message"] for caution in document["cautions"]} == {None}
    assert document["verdict"]["statement"] is document["verdict"]["reception_statement"] is None


def test_the_order_of_rows_changes_no_byte(analysed):
    rows = rows_of(SCORES)
    shuffled = random.Random(5).sample(rows, len(rows))
    documents = [analysed(trial_of_rows(given)) for given in (rows, shuffled)]
    assert json.dumps(documents[0]) == json.dumps(documents[1])


def test_the_order_of_rows_changes_no_byte_of_a_bar_trial_with_lost_channels(analysed):
    stream = random.Random(3)
    rows = [
        {
            "element": f"e{k}",
            "round": r,
            "channel": f"{c // 2}.{c}",
            "value": stream.choice([None, 3, 4, 5, 6]),
        }
        for k in range(3)
        for r in range(1, 5)
        for c in range(9)
    ]
    shuffled = stream.sample(rows, len(rows))
    documents = [analysed(trial_of_rows(given, meter=BARS)) for given in (rows, shuffled)]
    assert json.dumps(documents[0]) == json.dumps(documents[1])


def test_the_same_input_gives_the_same_bytes_twice(analysed):
    first, second = (json.dumps(analysed(made_trial(SCORES))) for _ in range(2))
    assert first == second


def test_the_schema_refuses_an_unknown_field_and_a_missing_one(analysed, schema):
    document = analysed(made_trial(SCORES))
    validator = jsonschema.Draft202012Validator(schema)
    for part in (
        "verdict",
        "provenance",
        "method",
        "looks",
        "struck",
        "reception",
        "repeatability",
        "read_as",
    ):
        more, less = copy.deepcopy(document), copy.deepcopy(document)
        more[part]["surprise"] = 1
        less[part].pop(next(iter(less[part])))
        assert not validator.is_valid(more), part
        assert not validator.is_valid(less), part


def test_the_schema_holds_a_caution_to_the_evidence_of_its_code(analysed, schema):
    document = analysed(made_trial({name: runs[:1] for name, runs in SCORES.items()}))
    validator = jsonschema.Draft202012Validator(schema)
    assert validator.is_valid(document)
    caution = next(entry for entry in document["cautions"] if entry["code"] == "one-round")
    caution["evidence"] = {"rounds_done": 1}
    assert not validator.is_valid(document)


def test_the_hash_of_the_readings_tells_values_and_not_their_order(analysed):
    rows = rows_of(SCORES)
    changed = [rows[0] | {"value": rows[0]["value"] + 0.001}, *rows[1:]]
    hashes = [
        analysed(trial_of_rows(given))["provenance"]["readings_sha256"]
        for given in (rows, list(reversed(rows)), changed)
    ]
    assert hashes[0] == hashes[1] != hashes[2]


def test_the_report_id_tells_the_plan_too(analysed):
    plain, wider = analysed(made_trial(SCORES)), analysed(made_trial(SCORES, margin=2.0))
    assert plain["provenance"]["readings_sha256"] == wider["provenance"]["readings_sha256"]
    assert plain["provenance"]["report_id"] != wider["provenance"]["report_id"]


def test_dates_and_runs_are_told(analysed):
    rows = [
        row | {"at": f"2025-05-1{row['round']}T08:00:00+02:00"}
        for row in rows_of({"a": [1.0, 2.0], "b": [3.0, 4.0]})
    ]
    struck = [{"element": "a", "round": 2, "reason": "gust"}]
    told = analysed(trial_of_rows(rows, planned_rounds=4, struck=struck))["provenance"]
    assert (told["first_at"], told["last_at"]) == ("2025-05-11T06:00:00Z", "2025-05-12T06:00:00Z")
    assert told["runs"] == {"planned": 8, "done": 4, "left_out": 1}


def test_read_as_tells_what_was_made_of_the_readings(analysed):
    rows = [
        row for row in rows_of(SCORES) if (row["element"], row["round"], row["channel"]) != ("b", 2, "s3")
    ]
    told = analysed(trial_of_rows(rows))["read_as"]
    assert (told["runs"], told["rounds"], told["rf_channels"]) == (18, 6, 3)
    assert (told["resolution"], told["resolution_from"]) == (0.001, "stated")
    assert told["left_out"] == [
        {
            "rf_channel": "24",
            "why": "not scanned in every run",
            "runs": [{"element": "b", "round": 2}],
            "run_count": 1,
        }
    ]
    assert told["runs_to_repeat"] == []


def test_the_runs_to_repeat_are_named_where_fewer_than_half_are_left(analysed):
    gone = {"s1", "s2", "s3"}
    rows = [
        row
        for row in rows_of(SCORES)
        if not ((row["element"], row["round"]) == ("b", 2) and row["channel"] in gone)
    ]
    told = analysed(trial_of_rows(rows))["read_as"]
    assert told["rf_channels"] == 1
    assert told["runs_to_repeat"] == [{"element": "b", "round": 2}]


def test_no_reading_at_all_is_refused(store):
    made = made_trial(SCORES)
    empty = dataclasses.replace(made.readings, frame=made.readings.frame.iloc[:0])
    with pytest.raises(BadInput) as refused:
        analyse(made.trial, empty, store=store)
    assert refused.value.faults[0].pointer == "#/readings"


def test_a_trial_whose_runs_are_all_struck_is_refused(store):
    struck = [{"element": name, "round": 1, "reason": "storm"} for name in "ab"]
    made = made_trial({"a": [1.0], "b": [2.0]}, struck=struck)
    with pytest.raises(BadInput) as refused:
        analyse(made.trial, made.readings, store=store)
    assert refused.value.faults[0].pointer == "#/trial/struck"


def test_each_stage_is_told_as_it_begins(store):
    made, stages = made_trial(SCORES), []
    analyse(made.trial, made.readings, store=store, progress=stages.append)
    assert stages == ["scores", "verdict", "other channels", "document"]
