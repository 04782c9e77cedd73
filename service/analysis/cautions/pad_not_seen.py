"""`pad-not-seen`: a known weakener was put in line and the trial did not find it as weak as it is."""

from service.analysis.cautions.caution import Caution, stop
from service.analysis.controls import ControlPair, control_pairs
from service.analysis.facts import Facts
from service.radio.meters import unit_rules
from service.statistics.results import CLEAR_WINNER

NOT_SEEN = "not a clear winner"
TOO_SMALL = "too small"


def pad_not_seen(facts: Facts) -> Caution | None:
    """Raised from the planned round on where a pad does not lose clearly against its element.

    In decibels also where the whole interval of the loss lies below the pad's own value by more than the
    margin. A test that is asleep can miss differences and does not invent them: clear winners still stand.
    """
    if facts.rounds_done < facts.trial.planned_rounds:
        return None
    told = [_told(facts, pair) for pair in control_pairs(facts, "pad")]
    missed = [entry for entry in told if entry["why"] is not None]
    if not missed:
        return None
    controls = {frozenset((str(entry["of"]), str(entry["pad"]))) for entry in missed}
    touched = {
        names
        for names, pair in zip(facts.pairs_of_ids, facts.judgement.pairs, strict=True)
        if pair.outcome != CLEAR_WINNER or frozenset(names) in controls
    }
    return stop(facts, "pad-not-seen", evidence={**missed[0], "others": missed[1:]}, touched=touched)


def _told(facts: Facts, pair: ControlPair) -> dict[str, object]:
    pad_db = facts.element(pair.control).pad_db
    return {
        "pad": pair.control,
        "of": pair.of,
        "pad_db": pad_db,
        "difference": pair.difference,
        "low": pair.low,
        "high": pair.high,
        "why": _why(facts, pair, pad_db=pad_db),
    }


def _why(facts: Facts, pair: ControlPair, *, pad_db: float | None) -> str | None:
    if not pair.is_clear or pair.winner != pair.of:
        return NOT_SEEN
    if pad_db is None or pair.high is None or not unit_rules(facts.trial.meter.unit).is_decibel:
        return None
    return TOO_SMALL if pair.high < pad_db - facts.trial.margin else None
