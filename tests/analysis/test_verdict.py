"""Outcome, reasons, rounds and hours; the schedule of looks; how it was made."""

from importlib import metadata

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores
from tests.analysis.read_document import codes, reasons

CLEAR = noisy_scores({"a": 20.0, "b": 15.0, "c": 14.9}, rounds=6, sd=0.2)
NEAR = noisy_scores({"a": 20.0, "b": 19.98, "c": 10.0}, rounds=6, sd=0.1)


def test_a_clear_winner(analysed):
    verdict = analysed(made_trial(CLEAR))["verdict"]
    assert (verdict["outcome"], verdict["winner"], verdict["leading"]) == ("clear winner", "a", ["a"])
    assert (verdict["more_rounds"], verdict["more_rounds_safe"], verdict["rounds_done"]) == (0, 0, 6)
    assert 3 <= verdict["decided_at_round"] <= 6
    assert [rival["outcome"] for rival in verdict["against"]] == ["clear winner"] * 2
    assert [reason["code"] for reason in verdict["reasons"]] == ["settled"]


def test_within_noise(analysed):
    document = analysed(made_trial(NEAR, margin=1.0))
    assert (document["verdict"]["outcome"], document["verdict"]["winner"]) == ("within noise", None)
    assert document["verdict"]["leading"] == ["a", "b"]
    assert reasons(document) == ["settled"]


def test_a_real_difference_too_small_to_matter(analysed):
    scores = noisy_scores({"a": 20.0, "b": 19.0, "c": 10.0}, rounds=6, sd=0.05)
    document = analysed(made_trial(scores, margin=2.0))
    assert document["verdict"]["outcome"] == "within noise"
    small = next(
        reason for reason in document["verdict"]["reasons"] if reason["code"] == "too-small-to-matter"
    )
    assert small["evidence"] == {"elements": ["b"]}


def test_not_told_apart(analysed):
    document = analysed(made_trial(NEAR, margin=0.02))
    assert document["verdict"]["outcome"] == "needs more runs"
    (reason,) = (entry for entry in document["verdict"]["reasons"] if entry["code"] == "not-told-apart")
    assert len(reason["evidence"]["elements"]) == 1
    assert set(reason["evidence"]["elements"]) < {"a", "b"}


def test_a_difference_too_fine_for_the_site(analysed):
    scores = noisy_scores({"a": 20.0, "b": 20.0, "c": 20.0}, rounds=6, sd=1.0)
    document = analysed(made_trial(scores, margin=0.01))
    assert document["verdict"]["more_rounds"] is None
    assert "too-fine" in reasons(document)


def test_hours_are_minutes_a_run_times_elements(analysed):
    verdict = analysed(
        made_trial({name: runs[:3] for name, runs in NEAR.items()}, margin=0.2, minutes_per_run=10)
    )["verdict"]
    hours, more = verdict["hours"], verdict["more_rounds"]
    assert more is not None
    assert hours["per_round"] == 0.5
    assert hours["more_rounds"] == 0.5 * more
    assert hours["more_rounds_safe"] == (
        None if verdict["more_rounds_safe"] is None else 0.5 * verdict["more_rounds_safe"]
    )
    assert hours["fewest_rounds"] == 1.5


def test_no_hours_without_minutes(analysed):
    assert analysed(made_trial(CLEAR))["verdict"]["hours"] is None


def test_the_looks(analysed):
    looks = analysed(made_trial(CLEAR))["looks"]
    assert (looks["planned_rounds"], looks["this"]) == (6, 6)
    assert [look["round"] for look in looks["schedule"]] == [3, 4, 5, 6]
    # four fifths of 0.05 times (R/P)^2
    spent = [0.04 * (rounds / 6) ** 2 for rounds in (3, 4, 5, 6)]
    assert [look["spent"] for look in looks["schedule"]] == pytest.approx(spent)
    assert {look["order"] for look in looks["schedule"]} == {None}
    assert all(look["leader_critical"] < look["critical"] for look in looks["schedule"])


def test_the_looks_taken_end_with_what_the_verdict_says(analysed):
    document = analysed(made_trial(CLEAR))
    taken, verdict = document["looks"]["taken"], document["verdict"]
    assert [look["round"] for look in taken] == [3, 4, 5, 6]
    last, nearest = taken[-1], min(verdict["against"], key=lambda rival: rival["low"])
    assert (last["first"], last["second"]) == (verdict["leading"][0], nearest["element"])
    assert (last["low"], last["high"]) == (nearest["low"], nearest["high"])
    assert last["difference"] == nearest["difference"]
    decided = next(look for look in taken if look["round"] == verdict["decided_at_round"])
    assert decided["outcome"] == verdict["outcome"] == "clear winner"


def test_a_look_keeps_what_it_said_itself(analysed):
    """Far apart but restless at first: open at the third round, settled by the sixth."""
    restless = {
        "a": [5.0, 3.0, 4.0, 4.0, 4.0, 4.0],
        "b": [2.0, 3.0, 1.0, 2.0, 2.0, 2.0],
        "c": [1.0, 2.0, 2.0] + [1.0] * 3,
    }
    outcomes = [look["outcome"] for look in analysed(made_trial(restless))["looks"]["taken"]]
    early = analysed(made_trial({name: runs[:3] for name, runs in restless.items()}))
    assert (outcomes[0], outcomes[-1]) == (early["verdict"]["outcome"], "clear winner")
    assert outcomes[0] == "needs more runs"


def test_the_looks_of_two_elements_are_whole_steps(analysed):
    looks = analysed(made_trial({name: CLEAR[name] for name in "ab"}))["looks"]
    assert looks["schedule"][-1]["order"] == 1
    assert looks["schedule"][-1]["critical"] is None


def test_there_is_no_look_before_a_planned_end(analysed):
    scores = {name: runs[:4] for name, runs in CLEAR.items()}
    looks = analysed(made_trial(scores, looks="planned end", planned_rounds=6))["looks"]
    assert looks["this"] is None
    assert looks["schedule"] == []


def test_how_it_was_made(analysed):
    method = analysed(made_trial(CLEAR, seed=7))["method"]
    assert (method["seed"], method["unit"], method["design"]) == (7, "round", "rounds")
    assert (method["permutations"], method["enumerated"]) == (19999, False)
    assert method["draws"] == {"bell_shaped": 100000, "shuffled": 19999}
    assert method["critical"]["leader"] < method["critical"]["bell_shaped"]
    assert method["versions"]["aerial-assay"] == method["version"]
    assert method["order_seed"] is None


def test_a_source_tree_that_was_never_installed_has_no_version(analysed, monkeypatch):
    def nowhere(name: str) -> str:
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(metadata, "version", nowhere)
    assert analysed(made_trial(CLEAR))["method"]["version"] == "not installed"


def test_a_sound_trial_carries_no_warning_but_safety(analysed):
    assert codes(analysed(made_trial(CLEAR))) == ["safety"]
