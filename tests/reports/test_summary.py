"""A summary to read aloud: 60 to 90 words for every outcome and every kind of trial, and honest in each."""

import re

import pytest

import reports
from reports.wording.cautions import phrase
from reports.wording.summary import words
from tests.reports import sample_documents as samples
from tests.reports.conftest import MAKERS, rendered
from tests.reports.sample_parts import caution, trial_document

LONG = "a name of ever so many little words in a row"


def many_elements(**fields) -> samples.Document:
    names = [f"rod {number} of the long shed wall" for number in range(64)]
    trial = trial_document(elements=names, channels=8, **fields)
    trial["reference"] = None
    return samples.document(trial, samples.readings([0.0] * 64, rounds=6, channels=8))


def stopped() -> samples.Document:
    document = samples.six_elements()
    evidence = {"elements": ["brass-3b"], "pairs": []}
    document["cautions"].insert(0, caution("twin-differs", "stop", **evidence) | {"message": "It differs."})
    document["verdict"].update(outcome="needs more runs", winner=None, decided_at_round=None)
    document["verdict"]["reasons"] = [{"code": "stopped", "message": "A stop.", "evidence": {}}]
    return document


def decided_earlier() -> samples.Document:
    """The winner of an earlier look is no longer the one that is ahead."""
    document = samples.six_elements()
    document["verdict"].update(winner="zinc-12")
    return document


def long_names() -> samples.Document:
    document = samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2)
    for number, entry in enumerate(document["elements"]):
        entry["label"] = f"{LONG} {number}"
    return document


def untitled() -> samples.Document:
    return samples.two_elements(title=None)


def long_title() -> samples.Document:
    return samples.two_elements(title=" ".join(["word"] * 40))


OTHERS = {
    "64 elements": many_elements,
    "64 elements, wide margin": lambda: many_elements(margin=3.0),
    "stopped": stopped,
    "decided earlier": decided_earlier,
    "long names": long_names,
    "untitled": untitled,
    "long title": long_title,
    "heights": lambda: samples.two_elements(compares="height"),
    "one round of two": lambda: samples.two_elements(rounds=1),
    "two rounds": lambda: samples.six_elements(rounds=2),
}
ALL = {**MAKERS, **OTHERS}


@pytest.fixture(params=list(ALL))
def said(request) -> tuple[samples.Document, str]:
    document = ALL[request.param]()
    return document, reports.render(document, "summary").decode("utf-8")


def test_there_are_sixty_to_ninety_words(said):
    assert 60 <= words(said[1]) <= 90


def test_it_says_what_was_tested_the_outcome_and_what_next(said):
    document, text = said
    verdict = document["verdict"]
    rounds = verdict["rounds_done"]
    competing = sum(entry["role"] == "competes" for entry in document["elements"])
    assert re.search(rf"\b{competing} [a-z]+ tried in {rounds} rounds? on \d+ signals?, read in ", text)
    assert f"Outcome: {verdict['outcome']}." in text
    assert text.count("Next: ") == 1
    assert text.endswith(".\n")


def test_a_winner_is_named_only_where_there_is_one(said):
    document, text = said
    if document["verdict"]["outcome"] == "clear winner":
        assert "names a false winner in at most 5 of 100 such trials" in text
        return
    assert "winner" not in text
    assert " is the best" not in text
    assert "Next: Use" not in text


def test_it_is_one_line_of_plain_signs(said):
    assert said[1].count("\n") == 1
    assert re.findall(r"[\u2212\u2013\u202f\u2066-\u2069\u201c\u201d]|  |\bNone\b|nan", said[1]) == []


def test_by_how_much_is_said_with_what_it_leaves_open():
    text = rendered("two elements", "summary").decode()
    assert "it reads between 1.12 and 1.80 bars higher on average" in text
    assert "reads 1.46 bars above" in text
    text = rendered("not settled", "summary").decode()
    assert "That is no verdict yet: chance alone can put one ahead." in text


def test_a_level_in_decibels_and_a_scale_of_bars_each_keep_their_unit():
    assert " dB higher" in rendered("decibels", "summary").decode()
    assert "dB" not in rendered("two elements", "summary").decode().replace("dBu", "")


def test_what_makes_a_result_doubtful_is_said():
    text = rendered("known noise", "summary").decode()
    assert phrase("rests-on-known-repeatability") in text
    assert phrase("incomplete-rounds") in rendered("incomplete rounds", "summary").decode()


def test_one_scan_names_nobody_best_and_says_that_chance_can_do_that():
    text = rendered("one round", "summary").decode()
    assert "One scan of each cannot say which of the 4 elements is best" in text
    assert "chance alone can do that" in text


def test_an_earlier_decision_is_not_mixed_with_who_is_ahead_now():
    text = reports.render(decided_earlier(), "summary").decode()
    assert "zinc-coated steel wire is the best" in text
    assert "3 mm brass rod reads" not in text
