"""The cheapest element that is not behind the leader."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores
from tests.analysis.read_document import element

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


def test_one_without_a_cost_cannot_be_picked_and_is_named(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(b=(9.0, "EUR"), c=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": "b", "reason": "cheapest", "undecided": ["a"]}


def test_without_costs_of_those_as_good(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(c=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": None, "reason": "no costs", "undecided": ["a", "b"]}


@pytest.mark.parametrize("margin", [1.0, 0.01])
def test_without_any_cost_there_is_nothing_to_pick_by(analysed, margin):
    document = analysed(made_trial(NEAR, margin=margin))
    assert document["value_pick"] == {"element": None, "reason": "no costs", "undecided": []}


def test_a_cost_by_the_metre_and_a_length_make_a_cost(analysed):
    elements = [
        {"id": "a", "cost": {"amount": 2.0, "currency": "EUR"}},
        {"id": "b", "cost_per_metre": {"amount": 2.5, "currency": "EUR"}, "length_mm": 690},
        {"id": "c", "cost_per_metre": {"amount": 0.1, "currency": "EUR"}},  # without a length: not known
    ]
    document = analysed(made_trial(NEAR, margin=1.0, elements=elements))
    assert document["value_pick"] == {"element": "b", "reason": "cheapest", "undecided": []}
    assert element(document, "b")["cost"] == {"amount": pytest.approx(1.725), "currency": "EUR"}
    assert element(document, "c")["cost"] is None


def test_of_equally_cheap_ones_the_better_is_picked(analysed):
    scores = {"a": NEAR["b"], "b": NEAR["a"], "c": NEAR["c"]}
    costs = {"a": (5.0, "EUR"), "b": (5.0, "EUR")}
    document = analysed(made_trial(scores, margin=1.0, elements=costing(**costs)))
    best = next(entry["id"] for entry in document["elements"] if entry["rank"] == 1)
    assert document["value_pick"]["element"] == best


def test_a_winner_stands_alone(analysed):
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 10.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, elements=costing(a=(9.0, "EUR"), b=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": "a", "reason": "only the leader", "undecided": []}


def test_a_winner_of_unknown_cost_stands_alone_too(analysed):
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 10.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, elements=costing(b=(1.0, "EUR"))))
    assert document["value_pick"] == {"element": "a", "reason": "only the leader", "undecided": []}


def open_trial(analysed, **costs):
    """Two that are not told apart, and one far behind."""
    return analysed(made_trial(NEAR, margin=0.01, elements=costing(**costs)))


def test_nothing_is_picked_while_a_cheaper_one_is_not_told_from_the_leader(analysed):
    document = open_trial(analysed, a=(1.0, "EUR"), b=(1.0, "EUR"), c=(0.5, "EUR"))
    leader, other = sorted("ab", key=lambda name: element(document, name)["rank"])
    costs = {leader: (9.0, "EUR"), other: (1.0, "EUR"), "c": (0.5, "EUR")}
    assert open_trial(analysed, **costs)["value_pick"] == {
        "element": None,
        "reason": "not settled",
        "undecided": [other],
    }
    del costs[other]  # of unknown cost it may be cheaper
    assert open_trial(analysed, **costs)["value_pick"]["undecided"] == [other]
    dearer = {leader: (1.0, "EUR"), other: (9.0, "EUR")}
    assert open_trial(analysed, **dearer)["value_pick"] == {
        "element": leader,
        "reason": "cheapest",
        "undecided": [],
    }


def test_before_there_are_intervals_nothing_is_picked(analysed):
    scores = {name: runs[:2] for name, runs in NEAR.items()}
    costs = {"a": (1.0, "EUR"), "b": (2.0, "EUR"), "c": (3.0, "EUR")}
    document = analysed(made_trial(scores, elements=costing(**costs)))
    assert (document["value_pick"]["element"], document["value_pick"]["reason"]) == (None, "not settled")


@pytest.mark.parametrize(("cost", "undecided"), [(0.5, ["d"]), (4.5, [])])
def test_who_is_undecided_and_cheaper_is_named_beside_a_pick(analysed, cost, undecided):
    # d is noisier than the others and half a margin below: neither as good nor clearly behind
    scores = noisy_scores({"a": 20.0, "b": 19.98, "d": 19.7}, rounds=6, sd=0.1)
    scores["d"] = [value + (0.25 if r % 2 else -0.25) for r, value in enumerate(scores["d"])]
    costs = {"a": (5.0, "EUR"), "b": (4.0, "EUR"), "d": (cost, "EUR")}
    document = analysed(made_trial(scores, margin=0.6, elements=costing(**costs)))
    assert element(document, "d")["standing"] == "not told apart yet"
    assert document["value_pick"] == {"element": "b", "reason": "cheapest", "undecided": undecided}
