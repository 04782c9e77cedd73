"""Sentences beside real verdicts: known noise, ties, gaps in the scans, stops, decisions that stand."""

import re

import numpy as np
import pytest

from reports.text import terminal_lines
from reports.wording import cautions, complete, level, next_steps, one_scan, value_pick
from reports.wording.speech import speech_of
from service.analysis import analyse
from service.statistics.bell_reference import MemoryStore
from tests.analysis.made_trials import made_trial, noisy_scores, rows_of, trial_of_rows
from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.plain import visible

STORE = MemoryStore()
KNOWN = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["21", "22", "23", "24"], "from": "ten remounts"}
ONE = {"a": [10.0], "b": [7.0], "c": [6.9]}


def told(made):
    return complete(analyse(made.trial, made.readings, store=STORE))


def page(document) -> str:
    return visible(undrawn.page(document))


def message(document, code: str) -> str:
    return next(entry["message"] for entry in document["cautions"] if entry["code"] == code)


def reason(document, code: str) -> str:
    return next(entry["message"] for entry in document["verdict"]["reasons"] if entry["code"] == code)


@pytest.mark.parametrize("rounds", [1, 2])
def test_beside_a_verdict_by_a_known_noise_nothing_says_that_no_noise_is_known(rounds):
    scores = {name: runs * rounds for name, runs in ONE.items()}
    scores["a"] = [value + 0.1 * r for r, value in enumerate(scores["a"])]
    document = told(made_trial(scores, known_repeatability=KNOWN, minutes_per_run=10))
    assert document["verdict"]["outcome"] == "clear winner"
    text = page(document)
    for wrong in (
        "This is no look",
        "No difference can be told",
        "No verdict is possible",
        "remount test",
        "short test",
        "nothing shows how far",
        "cannot decide anything",
    ):
        assert wrong not in text
    assert "noise known beforehand" in message(document, "one-round" if rounds == 1 else "few-rounds")
    assert "That rests on a noise known beforehand" in next_steps.sentences(speech_of(document))[0]


def test_one_scan_with_a_known_noise_points_to_the_verdict():
    document = told(made_trial(ONE, known_repeatability=KNOWN))
    assert document["one_scan"]["statement"] == (
        "In one scan a came out 3.1 dB above the last, and what that is worth the verdict says, by a noise "
        "known beforehand."
    )
    facts = " ".join(one_scan.facts(speech_of(document)))
    assert "moves by itself: by a standard deviation of 0.20 dB" in facts


def test_an_open_trial_with_a_known_noise_is_told_its_rounds():
    document = told(made_trial({"a": [10.0], "b": [9.9]}, known_repeatability=KNOWN))
    steps = " ".join(next_steps.sentences(speech_of(document)))
    assert "The short test" not in steps
    assert "Run about" in steps or "More rounds will hardly" in steps


def test_where_the_known_noise_comes_from_is_said():
    elsewhere = message(told(made_trial(ONE, known_repeatability=KNOWN)), "rests-on-known-repeatability")
    assert "was taken from elsewhere: a standard deviation of 0.20 dB with 9 degrees" in elsewhere
    assert "(ten remounts)" in elsewhere
    scores = noisy_scores({"a": 12.0, "b": 7.0}, rounds=6, sd=0.1)
    rows = [row | {"round": 1, "mounting": f"m{row['round']}"} for row in rows_of(scores)]
    here = message(told(trial_of_rows(rows)), "rests-on-known-repeatability")
    assert "elsewhere" not in here
    assert "comes from how far readings moved when the same element is taken off and put on again" in here
    both = message(told(trial_of_rows(rows, known_repeatability=KNOWN)), "rests-on-known-repeatability")
    assert "from elsewhere and from this trial together" in both


def test_a_known_noise_that_is_too_short_is_said_not_to_be_used():
    document = told(made_trial(ONE, known_repeatability=KNOWN | {"degrees_of_freedom": 5}))
    assert reason(document, "known-noise-too-short") == (
        "The known repeatability is not used as the noise: it has 5 of the 9 degrees of freedom that it "
        "takes. One element put on 10 times, with a scan each time, has them."
    )


def test_a_tie_at_the_top_is_level_and_not_ahead():
    scores = {"a": [5.0], "b": [5.0], "c": [4.0]}
    document = told(made_trial(scores))
    assert document["verdict"]["statement"].endswith(
        "a and b came out level at the top, and chance alone can do that."
    )
    assert document["one_scan"]["statement"].startswith("In one scan a and b came out level, 1 dB above")
    assert level.sentence(speech_of(document)).startswith("Level: a and b are level at the top.")
    assert "ahead" not in page(document)


def test_a_tie_after_several_rounds_is_level_too():
    scores = {
        "a": [5.0, 5.4, 4.6, 5.2, 4.8, 5.0],
        "b": [5.4, 5.0, 5.2, 4.6, 5.0, 4.8],
        "c": [4.9, 4.8, 5.1, 4.7, 5.0, 4.5],
    }
    document = told(made_trial(scores, margin=0.05))
    assert [entry["rank"] for entry in document["elements"]] == [1, 1, 3]
    assert "a and b are level" in document["verdict"]["statement"]
    assert "a is level with b (true difference −" in level.sentence(speech_of(document))


def gaps(drop):
    rows = rows_of(noisy_scores({"a": 5.0, "b": 4.0}, rounds=4, sd=0.2))
    return told(trial_of_rows([row for row in rows if not drop(row)]))


def test_reception_counts_what_was_scanned_and_says_out_of_how_many():
    whole = gaps(lambda _row: False)
    assert whole["verdict"]["reception_statement"] == (
        "Reception: every signal came in with both elements in every round."
    )
    missing = gaps(lambda row: row["element"] == "a" and row["round"] == 2)
    assert missing["verdict"]["reception_statement"] == (
        "Reception: every signal came in with both elements wherever it was scanned (28 of 32 times)."
    )
    struck = made_trial(
        noisy_scores({"a": 5.0, "b": 4.0}, rounds=4, sd=0.2),
        struck=[{"element": "a", "round": 2, "reason": "gust"}],
    )
    assert told(struck)["verdict"]["reception_statement"] == missing["verdict"]["reception_statement"]


def test_a_signal_that_was_never_scanned_with_one_is_in_none_of_its_counts():
    rows = rows_of(noisy_scores({"a": 5.0, "b": 4.0}, rounds=4, sd=0.2))
    scanned = [row for row in rows if (row["element"], row["channel"]) != ("b", "s3")]
    lost = [
        row | {"value": None} if (row["element"], row["channel"]) == ("b", "s0") else row for row in scanned
    ]
    document = told(trial_of_rows(lost))
    assert document["verdict"]["reception_statement"].startswith(
        "Reception: a received 4 of 4 signals whenever scanned (28 of 32 times), b 2 of 3."
    )
    assert re.search(r"\bb 2 0 1 3 of 4\b", page(document))


def test_a_stopped_trial_claims_no_decision_anywhere():
    rows = [
        row | {"mounting": "only"} for row in rows_of(noisy_scores({"a": 9.0, "b": 5.0}, rounds=6, sd=0.1))
    ]
    document = told(trial_of_rows(rows))
    assert document["verdict"]["statement"] == (
        "No verdict: a and b were put on only once, and more scans of that say nothing new."
    )
    text = page(document)
    assert "The rule was met" not in text
    assert "stands, and" not in text
    assert level.sentence(speech_of(document)).endswith(
        "That counts only once what stopped the trial is put right."
    )


def test_the_level_does_not_contradict_a_decision_that_stands():
    scores = noisy_scores({"a": 21.0, "b": 20.0}, rounds=12, sd=0.1)
    scores["a"] = [*scores["a"][:6], *(value - 2.5 for value in scores["a"][6:])]
    costs = [{"id": name, "cost": {"amount": 1.0, "currency": "EUR"}} for name in "ab"]
    document = told(made_trial(scores, elements=costs))
    assert document["verdict"]["winner"] == "a"
    said = level.sentence(speech_of(document))
    assert said.startswith(
        "Level: over all rounds b now reads higher than a (the true difference lies between"
    )
    assert said.endswith("that does not undo what was settled in round 6.")
    assert "a (1.00\u202fEUR) was settled as the best and that stands" in value_pick.sentence(
        speech_of(document)
    )
    text = page(document)
    assert "best, settled in round 6" in text
    assert "highest now" in text


def test_one_that_was_settled_as_good_is_not_said_to_be_open_because_later_rounds_are_wide():
    scores = noisy_scores({"a": 20.0, "b": 20.0}, rounds=9, sd=0.1)
    scores["a"] = [*scores["a"][:7], scores["a"][7] + 3, scores["a"][8] - 4]
    document = told(made_trial(scores))
    assert document["verdict"]["outcome"] == "within noise"
    assert document["verdict"]["against"][0]["outcome"] == "needs more runs"
    settled = f"as good, settled in round {document['verdict']['decided_at_round']}"
    assert settled in page(document)
    assert any(settled in line for line in terminal_lines(document))
    assert "not told apart yet" not in page(document) + " ".join(terminal_lines(document))


def test_the_highest_total_is_not_said_to_lead_where_another_has_the_higher_average():
    readings = {"a": (5, 5, 5, 9), "b": (8, 8, 8, 4)}  # three channels of one signal, one of another
    rows = [
        {"element": name, "round": 1, "channel": f"c{n}", "rf_channel": str(n // 3), "value": value}
        for name, values in readings.items()
        for n, value in enumerate(values)
    ]
    document = told(trial_of_rows(rows, meter={"unit": "bars", "highest": 10}))
    assert "a came out ahead" in document["verdict"]["statement"]
    assert document["one_scan"]["statement"].startswith(
        "In one scan the highest total over all channels, 4 points above the last, is that of b, but equal"
    )


def test_without_an_interval_few_quiet_rounds_do_not_add_digits_to_a_coarse_meter():
    scores = {"a": [6.0, 6.0, 6.25], "b": [4.0, 4.0, 4.0]}
    document = told(made_trial(scores, meter={"unit": "bars", "highest": 10}))
    assert document["repeatability"]["sd"] < 0.2
    assert [entry["score_interval"] for entry in document["elements"]] == [None, None]
    assert "1. a  6.1  ahead, by chance or not" in terminal_lines(document)
    assert "1. b  4.0  not told apart yet, behind by 2.1" in terminal_lines(document)


def test_what_could_not_be_judged_is_said_not_to_be():
    scores = noisy_scores({"a": 20.0, "b": 16.0, "c": 15.9, "d": 10.0}, rounds=6, sd=0.1)
    scores["d"] = [30.0, None, None, None, None, None]
    document = told(made_trial(scores))
    assert "a is the best of the 3 elements that could be judged" in document["verdict"]["statement"]
    assert "ahead of every other that was judged" in level.sentence(speech_of(document))
    assert "not judged" in page(document)


def test_cautions_are_named_in_words_within_a_sentence():
    assert cautions.phrase("rf-channel-unknown") == "RF channel unknown"
    assert cautions.phrase("one-round") == "one round only"
    document = samples.two_elements()
    document["cautions"].insert(
        0,
        {
            "code": "rf-channel-unknown",
            "severity": "warning",
            "message": None,
            "evidence": {"channels": ["x"]},
        },
    )
    assert "read the cautions: RF channel unknown." in next_steps.sentences(speech_of(complete(document)))[-1]


def test_no_number_has_more_digits_than_the_meter_gives_it():
    stream = np.random.RandomState(2)
    rows = [
        {
            "element": name,
            "round": 1,
            "run": f"r{scan}",
            "channel": f"s{c}",
            "rf_channel": str(21 + c),
            "value": value,
        }
        for name in "abc"
        for scan in range(3)
        for c in range(7)
        for value in [int(stream.randint(3, 9))]
    ]
    document = told(trial_of_rows(rows, meter={"unit": "bars", "highest": 10}))
    assert re.findall(r"\d\.\d{3,}", page(document).split("How it was made")[0].split("Looks")[0]) == []


def test_the_cost_of_a_length_is_said_to_be_one():
    elements = [
        {"id": "a", "cost": {"amount": 9.0, "currency": "EUR"}},
        {"id": "b", "cost_per_metre": {"amount": 2.0, "currency": "EUR"}, "length_mm": 500},
    ]
    scores = noisy_scores({"a": 20.0, "b": 19.98}, rounds=6, sd=0.05)
    document = told(made_trial(scores, margin=1.0, elements=elements))
    assert value_pick.sentence(speech_of(document)).startswith("b (1.00\u202fEUR for its length) ")
