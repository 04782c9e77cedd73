"""What must hold of every value, whatever form it came in: it lies within the scale."""

import numpy as np

from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.values import State
from service.radio.meters import unit_rules
from service.trial.trial import Meter


def check_scale(draft: Draft, meter: Meter, faults: FaultList) -> None:
    """Refuse values outside the meter's scale, or beyond what any receiver of that unit shows.

    Nothing is refused on a meter without a unit, which is a fault of its own.
    """
    if not meter.unit:
        return
    rules = unit_rules(meter.unit)
    lowest = rules.least if meter.lowest is None else meter.lowest
    highest = rules.most if meter.highest is None else meter.highest
    with np.errstate(invalid="ignore"):
        outside = (draft.state == State.NUMBER) & ((draft.value < lowest) | (draft.value > highest))
    places = np.flatnonzero(outside)
    scale = "the scale" if meter.lowest is not None and meter.highest is not None else "what can be believed"
    detail = (
        f"Outside {scale} of this meter, {lowest:g} to {highest:g} {meter.unit}: mend the reading, or state "
        "the meter's lowest and highest value."
    )
    faults.at_rows(
        draft.row[places],
        lambda index: (draft.heading(int(places[index])), detail, float(draft.value[places[index]])),
    )
