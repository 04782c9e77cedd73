"""The part of the document that lists the elements."""

import numpy as np

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.analysis.ranking import Ranking
from service.trial.trial import Cost


def elements(facts: Facts, ranking: Ranking) -> list[dict[str, object]]:
    """One entry an element, in the order of elements; twins and pads have no rank, place or standing."""
    return [_entry(facts, ranking, index) for index in range(len(facts.ids))]


def _entry(facts: Facts, ranking: Ranking, index: int) -> dict[str, object]:
    name = facts.ids[index]
    element = facts.element(name)
    interval = ranking.intervals.get(name)
    return {
        "id": name,
        "label": element.label,
        "role": element.role,
        "place": ranking.places.get(name),
        "rank": ranking.ranks.get(name),
        "score": number(facts.judgement.scores[index]),
        "score_interval": None if interval is None else {"low": interval[0], "high": interval[1]},
        **_totals(facts, index),
        **facts.received_per_run(index),
        "rounds": int(facts.held[index].sum()),
        "round_scores": _round_scores(facts, index),
        "cost": _cost(element.price),
        "standing": ranking.standings.get(name),
    }


def _round_scores(facts: Facts, index: int) -> list[dict[str, object]]:
    """The score of each run, by round."""
    scores = zip(facts.rounds, facts.table.scores[index], strict=True)
    return [{"round": label, "score": float(score)} for label, score in scores if np.isfinite(score)]


def _totals(facts: Facts, index: int) -> dict[str, float | None]:
    totals = facts.totals
    if totals is None:
        return {"total": None, "total_possible": None, "percent_of_best": None}
    total = number(totals.values[index])
    best = max((value for value in map(number, totals.values) if value is not None), default=0.0)
    bounded = totals.possible is not None and total is not None and best > 0
    return {
        "total": total,
        "total_possible": totals.possible,
        "percent_of_best": total / best * 100.0 if bounded and total is not None else None,
    }


def _cost(price: Cost | None) -> dict[str, object] | None:
    return None if price is None else {"amount": price.amount, "currency": price.currency}
