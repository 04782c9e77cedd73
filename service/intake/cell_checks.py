"""What must hold of every value, whatever form it came in: it lies within the scale."""

import math

import numpy as np

from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.values import State
from service.radio.meters import unit_rules
from service.trial.trial import Meter


def check_scale(draft: Draft, meter: Meter, faults: FaultList) -> None:
    """Refuse values outside the meter's scale, or beyond what any receiver of that unit shows.

    Nothing is refused on a meter without a unit or where the file is in another, faults of their own.
    """
    if not meter.unit or faults.unit_faulty:
        return
    rules = unit_rules(meter.unit)
    lowest = rules.least if meter.lowest is None else meter.lowest
    highest = rules.most if meter.highest is None else meter.highest
    with np.errstate(invalid="ignore"):
        outside = (draft.state == State.NUMBER) & ~((draft.value >= lowest) & (draft.value <= highest))
    places = np.flatnonzero(outside)
    scale = "the scale" if meter.lowest is not None and meter.highest is not None else "what can be believed"
    detail = (
        f"Outside {scale} of this meter, {lowest:g} to {highest:g} {meter.unit}{_shifted(draft)}: mend the "
        "reading, or state the meter's lowest and highest value."
    )
    faults.at_rows(
        draft.row[places],
        lambda index: (draft.heading(int(places[index])), detail, _given(draft, int(places[index]))),
    )


def _shifted(draft: Draft) -> str:
    return f" ({draft.shift:+g} dB from the unit of the file)" if draft.shift else ""


def _given(draft: Draft, place: int) -> object:
    """The value as the file has it; a number too large to be kept has none."""
    value = float(draft.value[place])
    if not math.isfinite(value):
        return "a number too large to be read"
    return round(value - draft.shift, 6) if draft.shift else value
