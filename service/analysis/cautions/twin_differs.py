"""`twin-differs`: the spare copy of an element came out clearly different, so something fools the test."""

from service.analysis.cautions.caution import Caution, PairOfIds, stop
from service.analysis.controls import ControlPair, control_pairs
from service.analysis.facts import Facts
from service.statistics.results import CLEAR_WINNER


def twin_differs(facts: Facts) -> Caution | None:
    """Raised where a twin and its original are a clear winner and a loser.

    A pair still stands if it is a clear winner by more than the twins differ: its interval, up to its near
    end, lies beyond that difference.
    """
    differing = [pair for pair in control_pairs(facts, "twin") if pair.is_clear]
    if not differing:
        return None
    told = [_told(pair) for pair in differing]
    widest = max(abs(pair.difference) for pair in differing if pair.difference is not None)
    controls = {frozenset((pair.of, pair.control)) for pair in differing}
    touched = {pair for pair in facts.pairs_of_ids if frozenset(pair) in controls} | _nearer(facts, widest)
    return stop(facts, "twin-differs", evidence={**told[0], "others": told[1:]}, touched=touched)


def _told(pair: ControlPair) -> dict[str, object]:
    return {
        "twin": pair.control,
        "of": pair.of,
        "difference": pair.difference,
        "low": pair.low,
        "high": pair.high,
    }


def _nearer(facts: Facts, widest: float) -> set[PairOfIds]:
    """Pairs that are no clear winner by more than `widest`."""
    return {
        names
        for names, pair in zip(facts.pairs_of_ids, facts.judgement.pairs, strict=True)
        if pair.outcome != CLEAR_WINNER
        or pair.low is None
        or pair.high is None
        or max(pair.low, -pair.high) <= widest
    }
