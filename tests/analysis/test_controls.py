"""Twins and pads: compared and counted, never leading; what happens when they come out wrong."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores
from tests.analysis.read_document import caution, codes, element, evidence, pair, reasons

MEANS = {"a": 20.0, "b": 16.0, "a2": 20.0, "pad": 14.0}
ELEMENTS = [{"id": "a2", "twin_of": "a"}, {"id": "pad", "pad_of": "a", "pad_db": 6.0}]


def controlled(*, rounds: int = 6, planned_rounds: int = 6, **means: float):
    scores = noisy_scores(MEANS | means, rounds=rounds, sd=0.1)
    return made_trial(scores, elements=ELEMENTS, planned_rounds=planned_rounds)


def test_controls_as_they_should_be_say_nothing(analysed):
    document = analysed(controlled())
    assert not {"twin-differs", "pad-not-seen"} & set(codes(document))
    assert document["verdict"]["winner"] == "a"
    for name, role in (("a2", "twin"), ("pad", "pad")):
        entry = element(document, name)
        assert entry["role"] == role
        assert (entry["place"], entry["rank"], entry["standing"], entry["score_interval"]) == (
            None,
            None,
            None,
            None,
        )
    assert [entry["element"] for entry in document["verdict"]["against"]] == ["b"]


def test_a_control_never_leads(analysed):
    document = analysed(controlled(a2=30.0))
    assert document["verdict"]["leading"] == ["a"]
    assert element(document, "a")["place"] == 1


def test_a_twin_that_differs_stops_what_is_no_larger(analysed):
    document = analysed(controlled(a2=18.5))
    found = caution(document, "twin-differs")
    told = found["evidence"]
    assert found["severity"] == "stop"
    assert (told["twin"], told["of"], told["others"]) == ("a2", "a", [])
    assert told["difference"] == pytest.approx(1.5, abs=0.3)
    assert told["low"] < told["difference"] < told["high"]
    assert told["pairs_touched"] == [["a", "a2"]]
    assert told["pairs_standing"] == [["a", "b"], ["a", "pad"], ["b", "a2"], ["b", "pad"], ["a2", "pad"]]
    assert (document["verdict"]["outcome"], document["verdict"]["winner"]) == ("needs more runs", None)
    assert reasons(document)[0] == "stopped"
    assert document["value_pick"].items() >= {"element": None, "reason": "no costs", "undecided": []}.items()


def test_a_twin_that_differs_by_more_touches_more(analysed):
    told = evidence(analysed(controlled(a2=15.0)), "twin-differs")
    assert ["a", "b"] in told["pairs_touched"]
    assert told["pairs_standing"] == [["a", "pad"]]


def test_a_control_listed_before_its_element_is_turned_round(analysed):
    scores = noisy_scores({"pad": 17.0, "a": 20.0, "b": 16.0}, rounds=6, sd=0.1)
    elements = [{"id": "pad", "pad_of": "a", "pad_db": 6.0}]
    document = analysed(made_trial(scores, elements=elements))
    told, entry = evidence(document, "pad-not-seen"), pair(document, "pad", "a")
    assert told["why"] == "too small"
    assert told["difference"] == -entry["difference"] > 0
    assert (told["low"], told["high"]) == (-entry["interval"]["high"], -entry["interval"]["low"])


def test_several_twins_are_all_told(analysed):
    scores = noisy_scores({"a": 20.0, "x": 18.0, "y": 17.0}, rounds=6, sd=0.1)
    elements = [{"id": "x", "twin_of": "a"}, {"id": "y", "twin_of": "a"}]
    told = evidence(analysed(made_trial(scores, elements=elements)), "twin-differs")
    assert told["twin"] == "x"
    assert [(entry["twin"], entry["of"]) for entry in told["others"]] == [("y", "a")]


def test_a_twin_within_noise_or_not_told_apart_yet_stops_nothing(analysed):
    assert "twin-differs" not in codes(analysed(controlled(a2=20.3)))


def test_a_pad_that_is_not_seen_stops_what_is_not_clear(analysed):
    document = analysed(controlled(pad=20.0))
    found = caution(document, "pad-not-seen")
    told = found["evidence"]
    assert found["severity"] == "stop"
    assert (told["pad"], told["of"], told["pad_db"], told["why"]) == ("pad", "a", 6.0, "not a clear winner")
    assert ["a", "pad"] in told["pairs_touched"]
    assert ["a", "b"] in told["pairs_standing"]
    assert document["verdict"]["outcome"] == "needs more runs"


def test_a_pad_that_came_out_ahead_is_not_seen(analysed):
    told = evidence(analysed(controlled(pad=24.0)), "pad-not-seen")
    assert told["why"] == "not a clear winner"
    assert told["high"] < 0
    assert ["a", "pad"] in told["pairs_touched"]
    assert ["a", "pad"] not in told["pairs_standing"]


def test_a_pad_that_is_too_small_in_decibels(analysed):
    document = analysed(controlled(pad=17.0))
    told = evidence(document, "pad-not-seen")
    assert told["why"] == "too small"
    assert told["high"] < 6.0 - 1.0
    assert pair(document, "a", "pad")["winner"] == "a"


def test_a_pad_is_not_too_small_while_its_interval_reaches_up_to_it(analysed):
    document = analysed(controlled(pad=14.9))
    high = pair(document, "a", "pad")["interval"]["high"]
    assert high >= 6.0 - 1.0
    assert "pad-not-seen" not in codes(document)


def test_bars_do_not_measure_the_size_of_a_pad(analysed):
    scores = noisy_scores({"a": 8.0, "b": 6.0, "pad": 4.0}, rounds=6, sd=0.1)
    elements = [{"id": "pad", "pad_of": "a", "pad_db": 40.0}]
    meter = {"unit": "bars", "lowest": 0, "highest": 20, "resolution": 0.001}
    assert "pad-not-seen" not in codes(analysed(made_trial(scores, elements=elements, meter=meter)))


def test_before_the_planned_round_a_pad_may_be_unseen(analysed):
    assert "pad-not-seen" not in codes(analysed(controlled(pad=20.0, rounds=5)))
    assert "pad-not-seen" in codes(analysed(controlled(pad=20.0, rounds=5, planned_rounds=5)))


def test_stops_together_leave_standing_only_what_none_of_them_touches(analysed):
    document = analysed(controlled(a2=15.0, pad=20.0))
    reason = document["verdict"]["reasons"][0]["evidence"]
    assert reason["cautions"] == ["twin-differs", "pad-not-seen"]
    touched = [names for code in reason["cautions"] for names in evidence(document, code)["pairs_touched"]]
    assert all(names in touched for names in reason["pairs_touched"])
    assert not [names for names in reason["pairs_standing"] if names in touched]
