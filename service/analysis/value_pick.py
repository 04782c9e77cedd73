"""The cheapest element that is not behind the leader."""

from service.analysis.facts import Facts
from service.analysis.ranking import LEADS, NOT_TOLD_APART, SHARES, Ranking


def value_pick(facts: Facts, ranking: Ranking, *, stopped: bool) -> dict[str, object]:
    """The pick, why it is that one or why there is none, and who might still turn out to be as good.

    As good are the leader and those within noise of it. Elements without a cost cannot be picked; all costs
    of a trial are in one currency.
    """
    undecided = [name for name, standing in ranking.standings.items() if standing == NOT_TOLD_APART]
    as_good = [name for name, standing in ranking.standings.items() if standing in {LEADS, SHARES}]
    element, reason = None, "not settled"
    if not stopped and as_good and not (undecided and len(as_good) == 1):
        element, reason = _cheapest(facts, as_good)
    return {"element": element, "reason": reason, "undecided": undecided}


def _cheapest(facts: Facts, as_good: list[str]) -> tuple[str | None, str]:
    if len(as_good) == 1:
        return as_good[0], "only the leader"
    prices = {name: price for name in as_good if (price := facts.element(name).price) is not None}
    if not prices:
        return None, "no costs"
    return min(prices, key=lambda name: prices[name].amount), "cheapest"
