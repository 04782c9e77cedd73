"""The verdict in one sentence, for each outcome and each way to reach it."""

import pytest

from reports.wording import complete
from tests.reports import sample_documents as samples

CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"


def said(document) -> str:
    return complete(document)["verdict"]["statement"]


def test_a_clear_winner_of_two_names_both_and_the_interval():
    assert said(samples.two_elements()) == (
        "3 mm brass rod is better than “bronze wire, 13 gauge”: it reads between 1.12 and 1.80 bars higher "
        "on average."
    )


def test_a_clear_winner_of_many_is_measured_against_the_next_best():
    document = samples.six_elements()
    nearest = min(document["verdict"]["against"], key=lambda rival: rival["difference"])
    assert nearest["element"] == "zinc-12"
    assert said(document) == (
        "3 mm brass rod is the best of the 4 elements: it reads between 0.22 and 0.87 bars higher on "
        "average than the next best, zinc-coated steel wire."
    )


def test_a_decision_of_an_earlier_look_is_said_to_stand():
    document = samples.two_elements()
    document["verdict"]["winner"] = "bronze-13"  # the present leader is the other one
    document["verdict"]["decided_at_round"] = 4
    assert said(document) == "“bronze wire, 13 gauge” is the best: this was settled in round 4 and stands."
    document["verdict"].update(outcome=WITHIN, winner=None)
    reason = {"code": "present-look-differs", "evidence": {"outcome": MORE}, "message": None}
    document["verdict"]["reasons"].append(reason)
    assert "settled in round 4 and stands" in said(document)


def test_nothing_to_choose_names_all_that_share_the_lead_and_counts_the_rest():
    document = samples.six_elements(effects=(0.9, 0.88, 0.86, -0.9), margin=0.9)
    document["verdict"]["leading"] = ["brass-3", "zinc-12", "bronze-13"]
    assert document["verdict"]["outcome"] == WITHIN
    assert said(document) == (
        "Nothing to choose between 3 mm brass rod, zinc-coated steel wire and “bronze wire, 13 gauge”: any "
        "true difference from the best of them is smaller than the 0.9 bars you would act on; the other one "
        "is behind."
    )


def test_a_real_but_small_difference_is_said_to_be_both():
    document = samples.two_elements(margin=2.5)
    assert document["verdict"]["outcome"] == WITHIN
    assert said(document) == (
        "3 mm brass rod is a little better than “bronze wire, 13 gauge”, but by less than the 2.5 bars you "
        "would act on."
    )


def test_what_is_not_settled_names_the_leader_and_who_may_be_as_good():
    document = samples.two_elements(effects=(0.2, 0.0), rounds=4)
    assert document["verdict"]["outcome"] == MORE
    sentence = said(document)
    assert sentence.startswith("Not settled after 4 rounds: ")
    assert "may be just as good." in sentence


@pytest.mark.parametrize(
    ("maker", "words"),
    [
        (samples.one_round, "One scan of each cannot say which of the 4 elements is best"),
        (lambda: samples.two_elements(rounds=2), "Not settled after 2 rounds"),
        (samples.one_element, "one element only"),
        (samples.all_at_ceiling, "no level by which"),
    ],
)
def test_a_trial_without_a_verdict_says_why(maker, words):
    assert words in said(maker())


def test_a_stopped_trial_says_that_no_result_counts():
    document = samples.six_elements()
    evidence = {"cautions": ["twin-differs"], "pairs_touched": [], "pairs_standing": []}
    reasons = [{"code": "stopped", "evidence": evidence, "message": None}]
    document["verdict"].update(outcome=MORE, winner=None, decided_at_round=None, reasons=reasons)
    assert said(document).startswith("No verdict: a check that guards this trial failed")


@pytest.mark.parametrize("outcome", [CLEAR, WITHIN, MORE])
def test_each_outcome_gets_one_sentence(outcome):
    document = samples.six_elements()
    document["verdict"]["outcome"] = outcome
    sentence = said(document)
    assert sentence.endswith(".")
    assert ". " not in sentence


def test_an_outcome_that_does_not_exist_is_an_error():
    document = samples.two_elements()
    document["verdict"]["outcome"] = "probably better"
    with pytest.raises(KeyError):
        said(document)
