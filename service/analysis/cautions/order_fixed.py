"""`order-fixed`: the elements came in much the same order in every round."""

import numpy as np
from scipy.special import chdtrc

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.analysis.run_times import RunOrder, run_order
from service.statistics.friedman import friedman
from service.statistics.results import Floats

SELDOM = 0.01
SAME_PLACE = 0.04
WORTH_A_TEST = 0.1


def order_fixed(facts: Facts) -> Caution | None:
    """Raised where an element is always in the same place, or random orders agree so well in under 1 %.

    Taken over the rounds that hold every element. An element that is always in the same place counts once
    there are rounds enough that a random order does this in under 4 %. Agreement is Kendall's W of the
    places, its p by permuting them within rounds.
    """
    order = run_order(facts)
    places = None if order is None else _places(order)
    if order is None or places is None:
        return None
    always = _always(facts, places) if _by_chance(*places.shape) <= SAME_PLACE else []
    p_value = _agreement(facts, places)
    if not always and (p_value is None or p_value >= SELDOM):
        return None
    evidence = {
        "orders": _orders(facts, order),
        "always": always,
        "p_value": p_value,
        "order_from": order.source,
    }
    return Caution("order-fixed", "warning", evidence)


def _places(order: RunOrder) -> Floats | None:
    """Places from 1 in the rounds that hold every element, (K, rounds); None where they tell nothing."""
    begin = order.begin[:, np.isfinite(order.begin).all(axis=0)]
    if min(begin.shape) < 2 or not (np.diff(np.sort(begin, axis=0), axis=0) > 0).all():
        return None
    return np.asarray(1.0 + begin.argsort(axis=0).argsort(axis=0), dtype=np.float64)


def _by_chance(elements: int, rounds: int) -> float:
    """How often a random order has an element always in its place (an upper bound); of two, both have."""
    return float(elements) ** (2 - rounds) if elements > 2 else 2.0 ** (1 - rounds)


def _always(facts: Facts, places: Floats) -> list[dict[str, object]]:
    fixed = np.flatnonzero(np.ptp(places, axis=1) == 0)
    return [{"element": facts.ids[k], "place": int(places[k, 0])} for k in fixed]


def _agreement(facts: Facts, places: Floats) -> float | None:
    """p of the agreement; None where the chi-square approximation is nowhere near."""
    elements, rounds = places.shape
    sums = places.sum(axis=1) - rounds * (elements + 1) / 2
    statistic = 12 * float(np.square(sums).sum()) / (rounds * elements * (elements + 1))
    if chdtrc(elements - 1, statistic) > WORTH_A_TEST:
        return None
    return friedman(places, seed=facts.trial.seed).p_value


def _orders(facts: Facts, order: RunOrder) -> list[dict[str, object]]:
    return [
        {"round": label, "elements": [facts.ids[k] for k in column.argsort() if np.isfinite(column[k])]}
        for label, column in zip(facts.rounds, order.begin.T, strict=True)
    ]
