"""An invented document that tells what the metals could explain."""

from typing import Any

from service.radio.conductors import MATERIALS
from tests.reports import sample_documents as samples

METALS = {"brass", "phosphor bronze", "zinc"}


def with_metals(**changes: Any) -> samples.Document:
    """A decibel meter, three elements; the leader against two; `changes` are those of the part itself."""
    full = samples.db_meter()
    pairs = [_pair(full, "bronze-13", 0.0331), _pair(full, "zinc-12", 0.0412)]
    full["conductor_loss"] = {
        "leader": "brass-3",
        "in_decibels": True,
        "pairs": pairs,
        "rows": [_row(pair["element"], signal) for pair in pairs for signal in ("21", "27")],
        "not_known": [],
        "materials": [metal.document() for metal in MATERIALS if metal.name in METALS],
    } | changes
    return full


def _pair(full: samples.Document, other: str, bound: float) -> samples.Document:
    found = next(pair for pair in full["pairs"] if (pair["first"], pair["second"]) == ("brass-3", other))
    return {
        "element": other,
        "difference": found["difference"],
        "low": found["interval"]["low"],
        "high": found["interval"]["high"],
        "outcome": found["outcome"],
        "metal_bound_db": bound,
        "every_rf_channel": True,
    }


def _row(element: str, signal: str) -> samples.Document:
    return {
        "element": element,
        "rf_channel": signal,
        "frequency_mhz": 474.0 if signal == "21" else 522.0,
        "wavelength_m": 0.6325 if signal == "21" else 0.5743,
        "antenna": "loop",
        "metal_difference_db": 0.0123,
        "metal_difference_range_db": {"low": 0.0123, "high": 0.0123},
        "metal_difference_bound_db": 0.0331,
        "valid": True,
        "why": "It holds.",
        "reasons": [],
    }
