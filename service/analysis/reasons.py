"""Why the verdict is what it is, as codes with their evidence."""

from collections.abc import Iterator, Sequence

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.intervals import tolerance
from service.statistics.known_noise import BELOW_ROUNDS, FEWEST_FREEDOM
from service.statistics.results import NEEDS_MORE_RUNS, WITHIN_NOISE

Reason = tuple[str, dict[str, object]]


def reasons(facts: Facts, stops: Sequence[Caution]) -> list[dict[str, object]]:
    """The reasons of the verdict, the weightiest first; sentences are filled in later."""
    decided = () if stops else _decided(facts)
    found = [*_stopped(stops), *_undecided(facts), *decided, *_not_judged(facts)]
    return [{"code": code, "evidence": evidence, "message": None} for code, evidence in found]


def _stopped(stops: Sequence[Caution]) -> Iterator[Reason]:
    if not stops:
        return
    touched = _pairs(stops, "pairs_touched")
    standing = [pair for pair in _pairs(stops, "pairs_standing") if pair not in touched]
    yield (
        "stopped",
        {
            "cautions": [caution.code for caution in stops],
            "pairs_touched": touched,
            "pairs_standing": standing,
        },
    )


def _pairs(stops: Sequence[Caution], key: str) -> list[object]:
    """The pairs that any of the cautions names under `key`, each once."""
    found: list[object] = []
    for caution in stops:
        named = caution.evidence[key]
        found += [pair for pair in named if pair not in found] if isinstance(named, list) else []
    return found


def _undecided(facts: Facts) -> Iterator[Reason]:
    judgement = facts.judgement
    if judgement.outcome != NEEDS_MORE_RUNS:
        return
    fewest = judgement.fewest_rounds
    if len(facts.competing_ids) < 2:
        yield "nothing-to-compare", {}
    elif not facts.table.rf_channels:
        yield "no-level", {}
    elif fewest is not None and facts.rounds_done < fewest:
        yield "too-few-rounds", {"fewest_rounds": fewest, "rounds_done": facts.rounds_done}
    else:
        yield from _not_told_apart(facts)
    yield from _known_too_short(facts)
    if judgement.too_fine:
        yield "too-fine", {}


def _known_too_short(facts: Facts) -> Iterator[Reason]:
    """What is known of the noise was not used below three rounds, for want of degrees of freedom."""
    known = facts.early_noise
    early = facts.rounds_done < BELOW_ROUNDS and facts.table.rf_channels
    if early and 0 < known.freedom < FEWEST_FREEDOM and len(facts.competing_ids) > 1:
        evidence: dict[str, object] = {
            "given": known.given,
            "repeated": known.repeated,
            "needed": FEWEST_FREEDOM,
        }
        yield "known-noise-too-short", evidence


def _not_told_apart(facts: Facts) -> Iterator[Reason]:
    elements = [
        facts.ids[rival.element] for rival in facts.judgement.against if rival.outcome == NEEDS_MORE_RUNS
    ]
    if elements:
        yield "not-told-apart", {"elements": elements}


def _decided(facts: Facts) -> Iterator[Reason]:
    judgement = facts.judgement
    if judgement.outcome == NEEDS_MORE_RUNS:
        return
    yield "settled", {}
    tol = tolerance(facts.table.scores)
    small = [
        facts.ids[rival.element]
        for rival in judgement.against
        if rival.outcome == WITHIN_NOISE and rival.low is not None and rival.low > tol
    ]
    if small:
        yield "too-small-to-matter", {"elements": small}
    if judgement.present_outcome != judgement.outcome:
        yield "present-look-differs", {"outcome": judgement.present_outcome}


def _not_judged(facts: Facts) -> Iterator[Reason]:
    if facts.not_judged and facts.rounds_done > 2 and facts.table.rf_channels:  # else `no-level` says it all
        yield "not-judged", {"elements": facts.not_judged}
