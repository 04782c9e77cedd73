"""Runs taken out openly, and the trial with them put back."""

from tests.analysis.made_trials import made_trial, noisy_scores
from tests.analysis.read_document import codes, element, evidence

SCORES = noisy_scores({"a": 12.0, "b": 8.0, "c": 7.9}, rounds=6, sd=0.1)
GUST = {"element": "a", "round": 3, "reason": "mast turned in a gust"}


def with_a_bad_run() -> dict[str, list[float]]:
    """Element a far too low in round 3."""
    return SCORES | {"a": [*SCORES["a"][:2], SCORES["a"][2] - 12.0, *SCORES["a"][3:]]}


def test_nothing_struck(analysed):
    document = analysed(made_trial(SCORES))
    assert document["struck"] == {
        "runs": [],
        "without_strikes": {"outcome": "clear winner", "winner": "a"},
    }
    assert not {"runs-struck", "outcome-hangs-on-strike"} & set(codes(document))


def test_a_struck_run_is_listed_and_does_not_count(analysed):
    document = analysed(made_trial(with_a_bad_run(), struck=[GUST]))
    assert document["struck"]["runs"] == [GUST]
    assert evidence(document, "runs-struck") == {"runs": [GUST]}
    assert element(document, "a")["rounds"] == 5
    assert [entry["round"] for entry in element(document, "a")["round_scores"]] == [1, 2, 4, 5, 6]
    assert document["verdict"]["rounds_done"] == 6


def test_an_outcome_that_hangs_on_the_strike(analysed):
    document = analysed(made_trial(with_a_bad_run(), struck=[GUST]))
    told = evidence(document, "outcome-hangs-on-strike")
    assert told["with"] == {"outcome": "clear winner", "winner": "a"}
    assert told["without"] == document["struck"]["without_strikes"]
    assert told["without"] == {"outcome": "needs more runs", "winner": None}
    plain = analysed(made_trial(with_a_bad_run()))
    assert plain["verdict"]["outcome"] == "needs more runs"


def test_an_outcome_that_does_not(analysed):
    document = analysed(made_trial(SCORES, struck=[GUST]))
    assert document["struck"]["without_strikes"] == {"outcome": "clear winner", "winner": "a"}
    assert "runs-struck" in codes(document)
    assert "outcome-hangs-on-strike" not in codes(document)


def test_a_round_that_is_struck_whole_is_no_round(analysed):
    struck = [{"element": name, "round": 4, "reason": "thunder"} for name in "abc"]
    document = analysed(made_trial(SCORES, struck=struck))
    assert document["verdict"]["rounds_done"] == 5
    assert "incomplete-rounds" not in codes(document)
