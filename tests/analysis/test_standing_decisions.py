"""A decision of an earlier look that stands, while the present rounds lead elsewhere; and stopped trials."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import element, reasons


def turned(*, rounds: int = 12) -> dict[str, list[float]]:
    """Element a wins by round 6; from then on it falls behind by more than it was ahead."""
    scores = noisy_scores({"a": 21.0, "b": 20.0}, rounds=rounds, sd=0.1)
    return scores | {"a": [*scores["a"][:6], *(value - 2.5 for value in scores["a"][6:])]}


def costing(**costs: float) -> list[dict[str, object]]:
    return [{"id": name, "cost": {"amount": amount, "currency": "EUR"}} for name, amount in costs.items()]


def test_the_winner_is_that_of_the_look_that_decided_and_the_rest_that_of_the_present(analysed):
    document = analysed(made_trial(turned()))
    verdict = document["verdict"]
    assert (verdict["outcome"], verdict["winner"], verdict["decided_at_round"]) == ("clear winner", "a", 6)
    assert "present-look-differs" in reasons(document)
    assert [rival["element"] for rival in verdict["against"]] == ["a"]  # the present leader is b
    told = {name: element(document, name) for name in "ab"}
    assert (told["b"]["standing"], told["b"]["score_interval"], told["b"]["place"]) == ("leads", None, 2)
    assert (told["a"]["standing"], told["a"]["place"]) == ("not told apart yet", 1)


def test_the_value_pick_follows_the_decision_that_stands(analysed):
    document = analysed(made_trial(turned(), elements=costing(a=9.0, b=1.0)))
    picked = {"element": "a", "reason": "decision stands", "undecided": []}
    assert document["value_pick"].items() >= picked.items()


def test_within_noise_that_stands_is_picked_among_those_it_was_said_of(analysed):
    scores = noisy_scores({"a": 20.0, "b": 19.98}, rounds=9, sd=0.1)
    later = [value + step for value, step in zip(scores["b"][6:], (9, -9, 9), strict=True)]
    blurred = made_trial(
        scores | {"b": [*scores["b"][:6], *later]}, margin=1.0, elements=costing(a=9.0, b=1.0)
    )
    document = analysed(blurred)
    assert document["verdict"]["outcome"] == "within noise"
    assert "present-look-differs" in reasons(document)
    assert document["value_pick"].items() >= {"element": "b", "reason": "cheapest", "undecided": []}.items()


def test_a_stopped_trial_gives_no_reason_that_speaks_of_a_decision(analysed):
    mounted_once = [row | {"mounting": "only"} for row in rows_of(turned())]
    document = analysed(trial_of_rows(mounted_once))
    assert reasons(document)[0] == "stopped"
    assert not set(reasons(document)) & {"settled", "present-look-differs", "too-small-to-matter"}
    afresh = analysed(made_trial(turned()))
    assert {"settled", "present-look-differs"} <= set(reasons(afresh))


@pytest.mark.parametrize("first", [1, 10])
def test_rounds_are_named_as_the_readings_number_them(analysed, first):
    labels = {r + 1: label for r, label in enumerate([first, first + 1, first + 3, first + 6])}
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 14.9}, rounds=4, sd=0.1)
    rows = [row | {"round": labels[row["round"]]} for row in rows_of(scores)]
    named, plain = analysed(trial_of_rows(rows)), analysed(made_trial(scores))
    decided = plain["verdict"]["decided_at_round"]
    assert named["verdict"]["decided_at_round"] == labels[decided]
    assert named["looks"]["this"] == labels[4]
    assert [look["rounds"] for look in named["looks"]["schedule"]] == [3, 4]
    assert [look["round"] for look in named["looks"]["schedule"]] == [labels[3], labels[4]]
    for one, other in zip(named["pairs"], plain["pairs"], strict=True):
        at = other["decided_at_round"]
        assert one["decided_at_round"] == (None if at is None else labels[at])
    counts = ("rounds_done", "more_rounds", "fewest_rounds")
    assert [named["verdict"][key] for key in counts] == [plain["verdict"][key] for key in counts]
