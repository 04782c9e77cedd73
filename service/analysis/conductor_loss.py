"""The part of the document that tells what the metal alone could explain."""

from collections.abc import Iterator

from service.analysis.facts import Facts
from service.analysis.metals import MetalPair, MetalRow, conductors, metal_pairs
from service.analysis.plain_numbers import number
from service.radio.conductor import Conductor, metals_of
from service.radio.formula_limits import told
from service.radio.meters import unit_rules
from service.statistics.results import CLEAR_WINNER, PairJudgement
from service.trial.element_conductor import conductor_of


def conductor_loss(facts: Facts) -> dict[str, object] | None:
    """The leader against each other element whose metal and shape are known.

    None where there is no such pair: no region, no RF channel stated, the leader's metal or shape not known,
    or something else than elements is compared.
    """
    pairs = list(metal_pairs(facts))
    if not pairs:
        return None
    known = conductors(facts)
    return {
        "leader": facts.leader,
        "in_decibels": unit_rules(facts.trial.meter.unit).is_decibel,
        "pairs": [_pair(facts, pair) for pair in pairs],
        "rows": [_row(pair, row) for pair in pairs for row in pair.rows],
        "not_known": [_not_known(facts, name) for name in facts.competing_ids if name not in known],
        "materials": [metal.document() for metal in metals_of(known.values())],
    }


def leader_differences(facts: Facts) -> Iterator[tuple[MetalPair, float]]:
    """The pairs of which the leader is a clear winner, and leader - other; none off the decibel units."""
    if not unit_rules(facts.trial.meter.unit).is_decibel:
        return
    for pair in metal_pairs(facts):
        found = _judged(facts, pair)
        if found.outcome == CLEAR_WINNER and found.difference is not None:
            turned = facts.ids[found.first] != pair.first
            yield pair, -found.difference if turned else found.difference


def _pair(facts: Facts, pair: MetalPair) -> dict[str, object]:
    found = _judged(facts, pair)
    turned = facts.ids[found.first] != pair.first
    low, high = (found.low, found.high) if not turned else (_minus(found.high), _minus(found.low))
    return {
        "element": pair.second,
        "difference": number(_minus(found.difference) if turned else found.difference),
        "low": number(low),
        "high": number(high),
        "outcome": found.outcome,
        "metal_bound_db": pair.bound_db,
        "every_rf_channel": pair.complete,
    }


def _row(pair: MetalPair, row: MetalRow) -> dict[str, object]:
    return {
        "element": pair.second,
        "rf_channel": row.rf_channel,
        "frequency_mhz": row.channel.centre_mhz,
        "wavelength_m": row.channel.wavelength_m,
        "antenna": row.kind,
        "metal_difference_db": row.found.metal_difference_db.value,
        "metal_difference_range_db": row.found.metal_difference_db.document(),
        "metal_difference_bound_db": row.found.metal_difference_bound_db,
        "valid": row.found.valid,
        **told(row.found.limits),
    }


def _not_known(facts: Facts, name: str) -> dict[str, object]:
    wanting = conductor_of(facts.element(name))
    fields = [] if isinstance(wanting, Conductor) else [each.field for each in wanting]
    return {"element": name, "wanting": fields}


def _judged(facts: Facts, pair: MetalPair) -> PairJudgement:
    first, second = sorted((pair.first, pair.second), key=facts.index)
    return facts.judgement.pairs[facts.pairs_of_ids.index((first, second))]


def _minus(value: float | None) -> float | None:
    return None if value is None else 0.0 - value
