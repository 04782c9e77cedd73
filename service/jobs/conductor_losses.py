"""From the question what conductor loss could explain to the answer."""

from typing import Any

from service.radio.conductor import Conductor, coatings_of, metals_of
from service.radio.conductor_loss import compare
from service.radio.constants import wavelength_m
from service.radio.formulas import FORMULAS
from service.trial.loss_question import LossQuestion, loss_question


def conductor_losses(document: object) -> dict[str, Any]:
    """One row a frequency, and the metals with their sources. Raises BadInput with every fault."""
    question = loss_question(document)
    return {
        "first": question.names[0],
        "second": question.names[1],
        "antenna": {"kind": question.kind},
        "load_ohm": question.load_ohm,
        "rows": [_row(question, name, frequency) for name, frequency in question.frequencies],
        "geometry": _geometry(*question.conductors),
        "materials": [metal.document() for metal in metals_of(question.conductors)],
        "coatings": [coat.document() for coat in coatings_of(question.conductors)],
        "formulas": [formula.document() for formula in FORMULAS],
    }


def _row(question: LossQuestion, rf_channel: str | None, frequency_mhz: float) -> dict[str, Any]:
    first, second = question.conductors
    found = compare(
        first, second, question.kind, frequency_mhz=frequency_mhz, load_ohm=question.load_ohm
    ).document()
    length = first.length_mm / 1e3 / wavelength_m(frequency_mhz)
    return {"rf_channel": rf_channel, **found, "length_in_wavelengths": length}


def _geometry(first: Conductor, second: Conductor) -> dict[str, Any]:
    """How far the shapes differ: second over first. A length that differs shifts the resonance as much."""
    return {
        "diameter_ratio": second.diameter_mm / first.diameter_mm,
        "length_ratio": second.length_mm / first.length_mm,
        "same_form": second.form == first.form,
    }
