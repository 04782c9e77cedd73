"""The cheapest element that is not behind the leader."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores
from tests.analysis.read_document import element

NEAR = noisy_scores({"a": 20.0, "b": 19.98, "c": 10.0}, rounds=6, sd=0.1)


def picked(document):
    """Which, why, and what is open."""
    return {name: document["value_pick"][name] for name in ("element", "reason", "undecided")}


def costing(**amounts: tuple[float, str]) -> list[dict[str, object]]:
    return [
        {"id": name, "cost": {"amount": amount, "currency": currency}}
        for name, (amount, currency) in amounts.items()
    ]


def told(document):
    """What the pick was made by, what it costs and takes, and which is the quickest to make."""
    return {name: document["value_pick"][name] for name in ("basis", "price", "minutes", "quickest")}


@pytest.mark.parametrize("cheaper", ["a", "b"])
def test_the_cheapest_of_those_as_good(analysed, cheaper):
    costs = {"a": (5.0, "EUR"), "b": (5.0, "EUR"), "c": (1.0, "EUR")} | {cheaper: (4.0, "EUR")}
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(**costs)))
    assert picked(document) == {"element": cheaper, "reason": "cheapest", "undecided": []}


def test_one_without_a_cost_cannot_be_picked_and_is_named(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(b=(9.0, "EUR"), c=(1.0, "EUR"))))
    assert picked(document) == {"element": "b", "reason": "cheapest", "undecided": ["a"]}


def test_without_costs_of_those_as_good(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=costing(c=(1.0, "EUR"))))
    assert picked(document) == {"element": None, "reason": "no costs", "undecided": ["a", "b"]}


@pytest.mark.parametrize("margin", [1.0, 0.01])
def test_without_any_cost_there_is_nothing_to_pick_by(analysed, margin):
    document = analysed(made_trial(NEAR, margin=margin))
    assert picked(document) == {"element": None, "reason": "no costs", "undecided": []}


def test_a_cost_by_the_metre_and_a_length_make_a_cost(analysed):
    elements = [
        {"id": "a", "cost": {"amount": 2.0, "currency": "EUR"}},
        {"id": "b", "cost_per_metre": {"amount": 2.5, "currency": "EUR"}, "length_mm": 690},
        {"id": "c", "cost_per_metre": {"amount": 0.1, "currency": "EUR"}},  # without a length: not known
    ]
    document = analysed(made_trial(NEAR, margin=1.0, elements=elements))
    assert picked(document) == {"element": "b", "reason": "cheapest", "undecided": []}
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
    assert picked(document) == {"element": "a", "reason": "only the leader", "undecided": []}


def test_a_winner_of_unknown_cost_stands_alone_too(analysed):
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 10.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, elements=costing(b=(1.0, "EUR"))))
    assert picked(document) == {"element": "a", "reason": "only the leader", "undecided": []}


def open_trial(analysed, **costs):
    """Two that are not told apart, and one far behind."""
    return analysed(made_trial(NEAR, margin=0.01, elements=costing(**costs)))


def test_nothing_is_picked_while_a_cheaper_one_is_not_told_from_the_leader(analysed):
    document = open_trial(analysed, a=(1.0, "EUR"), b=(1.0, "EUR"), c=(0.5, "EUR"))
    leader, other = sorted("ab", key=lambda name: element(document, name)["rank"])
    costs = {leader: (9.0, "EUR"), other: (1.0, "EUR"), "c": (0.5, "EUR")}
    assert picked(open_trial(analysed, **costs)) == {
        "element": None,
        "reason": "not settled",
        "undecided": [other],
    }
    del costs[other]  # of unknown cost it may be cheaper
    assert open_trial(analysed, **costs)["value_pick"]["undecided"] == [other]
    dearer = {leader: (1.0, "EUR"), other: (9.0, "EUR")}
    assert picked(open_trial(analysed, **dearer)) == {
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
    assert picked(document) == {"element": "b", "reason": "cheapest", "undecided": undecided}


def test_the_basis_is_told_and_so_is_a_price_that_follows_from_the_length(analysed):
    elements = [
        {"id": "a", "cost": {"amount": 2.0, "currency": "EUR"}, "minutes_to_make": 5},
        {
            "id": "b",
            "cost_per_metre": {"amount": 2.5, "currency": "EUR"},
            "length_mm": 690,
            "minutes_to_make": 9,
        },
    ]
    by_length = {"amount": pytest.approx(1.725), "currency": "EUR", "from": "cost per metre and length"}
    quickest = {"element": "a", "minutes": 5.0, "undecided": []}
    assert told(analysed(made_trial(NEAR, margin=1.0, elements=elements))) == {
        "basis": "cost", "price": by_length, "minutes": 9.0, "quickest": quickest
    }  # fmt: skip
    elements[1]["length_mm"] = 1000
    document = analysed(made_trial(NEAR, margin=1.0, elements=elements))
    assert document["value_pick"]["element"] == "a"
    assert document["value_pick"]["price"] == {"amount": 2.0, "currency": "EUR", "from": "cost"}


def making(**minutes):
    return [{"id": name, "minutes_to_make": number} for name, number in minutes.items()]


def test_without_any_cost_the_time_to_make_it_decides(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=making(a=20, b=10, c=1)))
    assert picked(document) == {"element": "b", "reason": "quickest", "undecided": []}
    assert told(document) == {
        "basis": "minutes to make", "price": None, "minutes": 10.0,
        "quickest": {"element": "b", "minutes": 10.0, "undecided": []},
    }  # fmt: skip


def test_minutes_that_are_not_known_are_named_and_never_guessed(analysed):
    document = analysed(made_trial(NEAR, margin=1.0, elements=making(a=20, c=1)))
    assert picked(document) == {"element": "a", "reason": "quickest", "undecided": ["b"]}
    document = analysed(made_trial(NEAR, margin=1.0, elements=making(c=1)))
    assert picked(document) == {"element": None, "reason": "no costs", "undecided": ["a", "b"]}
    assert told(document)["quickest"] == {"element": None, "minutes": None, "undecided": ["a", "b"]}


def test_of_equally_cheap_ones_the_quicker_to_make_is_picked_though_it_reads_lower(analysed):
    elements = costing(a=(5.0, "EUR"), b=(5.0, "EUR"))
    best, other = sorted("ab", key=lambda name: -sum(NEAR[name]))
    for entry in elements:
        entry["minutes_to_make"] = {best: 20, other: 10}[entry["id"]]
    assert analysed(made_trial(NEAR, margin=1.0, elements=elements))["value_pick"]["element"] == other
    for entry in elements:
        entry["minutes_to_make"] = 10
    assert analysed(made_trial(NEAR, margin=1.0, elements=elements))["value_pick"]["element"] == best


def test_of_equally_quick_ones_the_cheaper_is_the_quickest(analysed):
    elements = costing(a=(5.0, "EUR"), b=(4.0, "EUR"))
    for entry in elements:
        entry["minutes_to_make"] = 10
    document = analysed(made_trial(NEAR, margin=1.0, elements=elements))
    assert document["value_pick"]["quickest"]["element"] == "b"


def test_a_winner_leaves_nothing_to_choose_by_cost_or_time(analysed):
    scores = noisy_scores({"a": 20.0, "b": 15.0, "c": 10.0}, rounds=6, sd=0.1)
    document = analysed(made_trial(scores, elements=making(a=20, b=1)))
    assert picked(document) == {"element": "a", "reason": "only the leader", "undecided": []}
    assert told(document) == {"basis": None, "price": None, "minutes": 20.0, "quickest": None}


def test_which_is_the_quickest_is_open_while_a_quicker_one_is_not_told_from_the_leader(analysed):
    document = analysed(made_trial(NEAR, margin=0.01, elements=making(a=10, b=10, c=1)))
    leader, other = sorted("ab", key=lambda name: element(document, name)["rank"])
    open_ = analysed(made_trial(NEAR, margin=0.01, elements=making(**{leader: 10, other: 5})))
    assert picked(open_) == {"element": None, "reason": "not settled", "undecided": [other]}
    assert told(open_)["quickest"] == {"element": None, "minutes": None, "undecided": [other]}
    assert told(open_)["basis"] == "minutes to make"
