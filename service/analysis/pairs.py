"""The part of the document that compares the elements two by two."""

import numpy as np

from service.analysis.facts import Facts
from service.analysis.noise import KNOWN_NOISE
from service.analysis.plain_numbers import number
from service.statistics.crossed_bootstrap import BootstrapInterval
from service.statistics.hodges_lehmann import hodges_lehmann
from service.statistics.intervals import tolerance
from service.statistics.results import Floats, PairJudgement
from service.statistics.sign_test import sign_test
from service.statistics.signed_rank import signed_rank

FEWEST_ROUNDS = 2


def pairs(facts: Facts) -> list[dict[str, object]]:
    """One entry a pair, the first before the second in the order of elements."""
    method = _interval_method(facts)
    return [
        _judged(facts, pair, method)
        | {"bootstrap": _bootstrap(drawn)}
        | _beside(facts, pair)
        | {"rf_channels": _favours(facts, pair)}
        for pair, drawn in zip(facts.judgement.pairs, facts.bootstraps, strict=True)
    ]


def _interval_method(facts: Facts) -> str:
    if facts.judgement.design == KNOWN_NOISE:
        return "known repeatability"
    return "sign-flip" if int(facts.judgement.judged.sum()) == 2 else "studentised maximum"


def _judged(facts: Facts, pair: PairJudgement, method: str) -> dict[str, object]:
    return {
        "first": facts.ids[pair.first],
        "second": facts.ids[pair.second],
        "difference": number(pair.difference),
        "standard_error": number(pair.standard_error),
        "interval": _interval(pair, facts.trial.confidence, method),
        "p_value": number(pair.p_value),
        "adjusted_p_value": number(pair.adjusted_p),
        "outcome": pair.outcome,
        "winner": None if pair.winner is None else facts.ids[pair.winner],
        "decided_at_round": facts.label(pair.decided_at),
        "present_outcome": pair.present_outcome,
        "more_rounds": pair.more_rounds,
    }


def _interval(pair: PairJudgement, level: float, method: str) -> dict[str, object] | None:
    """The interval, None where an end is unbounded or there is none."""
    if pair.low is None or pair.high is None:
        return None
    return {"low": pair.low, "high": pair.high, "level": level, "method": method}


def _bootstrap(drawn: BootstrapInterval | None) -> dict[str, object] | None:
    if drawn is None:
        return None
    return {
        "low": drawn.low,
        "high": drawn.high,
        "level": drawn.level,
        "method": f"{drawn.method}, unadjusted",
        "resamples": drawn.resamples,
    }


def _beside(facts: Facts, pair: PairJudgement) -> dict[str, object]:
    """The tests for the reader who wants them, over the rounds that both elements hold."""
    scores = facts.table.scores
    differences = scores[pair.first] - scores[pair.second]
    differences = differences[np.isfinite(differences)]
    return _tests(differences, facts.trial.confidence) if len(differences) >= FEWEST_ROUNDS else _no_tests()


def _tests(differences: Floats, level: float) -> dict[str, object]:
    ranks, signs, centre = (
        signed_rank(differences),
        sign_test(differences),
        hodges_lehmann(differences, level),
    )
    return {
        "signed_rank": {
            "statistic": ranks.statistic,
            "p_value": ranks.p_value,
            "method": ranks.method,
            "n": ranks.n,
            "zeros": ranks.zeros,
        },
        "sign_test": {
            "positive": signs.positive,
            "negative": signs.negative,
            "ties": signs.ties,
            "p_value": signs.p_value,
        },
        "hodges_lehmann": {
            "estimate": centre.estimate,
            "low": centre.low,
            "high": centre.high,
            "level": centre.level,
        },
        "rank_biserial": ranks.rank_biserial,
    }


def _no_tests() -> dict[str, object]:
    return {
        "signed_rank": dict.fromkeys(("statistic", "p_value", "method", "n", "zeros")),
        "sign_test": dict.fromkeys(("positive", "negative", "ties", "p_value")),
        "hodges_lehmann": dict.fromkeys(("estimate", "low", "high", "level")),
        "rank_biserial": None,
    }


def _favours(facts: Facts, pair: PairJudgement) -> dict[str, int]:
    """On how many RF channels each reads higher on average; a description, no test."""
    cells = facts.table.cells
    differences = cells[pair.first] - cells[pair.second]
    shared = np.isfinite(differences).all(axis=1)
    means = differences[shared].mean(axis=0) if shared.any() else np.zeros(0)
    tol = tolerance(cells)
    return {
        "favour_first": int((means > tol).sum()),
        "favour_second": int((means < -tol).sum()),
        "ties": int((np.abs(means) <= tol).sum()),
        "left_out": len(facts.table.left_out),
    }
