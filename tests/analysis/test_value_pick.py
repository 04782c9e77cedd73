"""The cheapest element that is not behind the leader."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores

NEAR = noisy_scores({"a": 20.0, "b": 19.98, "c": 10.0}, rounds=6, sd=0.1)


def costing(**amounts: tuple[float, str]) -> list[dict[str, object]]:
    return [
        {"id": name, "cost": {"amount": amount, "currency": currency}}
        for name, (amount, currency) in amounts.items()
    ]


@pytest.mark.parametrize("cheaper", ["a", "b"])
def test_the_cheapest_of_those_as_good(analysed, cheaper):
    costs = {"a": (5.0, "EUR"), "b": (5.0, "EUR"), "c": (1.0, "EUR")} | {cheaper: (4.0, "EUR")}
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(**costs)))
    assert document["value_pick"] == {"element": cheaper, "reason": "cheapest", "undecided": []}


def test_one_without_a_cost_cannot_be_picked(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(b=(9.0, "EUR"), c=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": "b", "reason": "cheapest", "undecided": []}


def test_without_costs_of_those_as_good(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(c=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": None, "reason": "no costs", "undecided": []}


def test_a_winner_stands_alone(analysed):
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 10.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, elements=costing(a=(9.0, "EUR"), b=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": "a", "reason": "only the leader", "undecided": []}


def test_nothing_is_picked_while_the_leader_is_not_told_from_any_other(analysed):
    document = analysed(made_trial(NEAR, margin=0.01, elements=costing(a=(9.0, "EUR"), b=(1.0, "EUR"))))
    pick = document["value_pick"]
    assert (pick["element"], pick["reason"]) == (None, "not settled")
    assert len(pick["undecided"]) == 1


def test_who_is_undecided_is_named_beside_a_pick(analysed):
    # d is noisier than the others and half a margin below: neither as good nor clearly behind
    scores = noisy_scores({"a": 20.0, "b": 19.98, "d": 19.7}, rounds=6, sd=0.1)
    scores["d"] = [value + (0.25 if r % 2 else -0.25) for r, value in enumerate(scores["d"])]
    document = analysed(made_trial(scores, margin=0.6, elements=costing(a=(5.0, "EUR"), b=(4.0, "EUR"))))
    standings = {entry["id"]: entry["standing"] for entry in document["elements"]}
    assert standings["d"] == "not told apart yet"
    assert document["value_pick"] == {"element": "b", "reason": "cheapest", "undecided": ["d"]}
