"""What must hold of every reading whatever form it came in: within the scale, and each cell once."""

import numpy as np
import pandas as pd

from service.intake.columns import Codes
from service.intake.draft import NO_ROUND, Draft
from service.intake.faults import FaultList
from service.intake.times import NO_TIME
from service.intake.values import State
from service.radio.meters import unit_rules
from service.trial.trial import Meter


def check_scale(draft: Draft, meter: Meter, faults: FaultList) -> None:
    """Refuse values outside the meter's scale, or beyond what any receiver of that unit shows."""
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


def check_repeats(draft: Draft, faults: FaultList) -> None:
    """Refuse a cell that is given again without anything that tells the two apart.

    Told apart by at, run or mounting they are several scans, which are averaged. Where neither round, at, run
    nor mounting is given, rows of one element with another element between belong to different mountings.
    """
    known = (draft.element.codes >= 0) & (draft.channel.codes >= 0) & (draft.state != State.NOT_SCANNED)
    places = np.flatnonzero(known)
    keys = {
        "element": draft.element.codes,
        "channel": draft.channel.codes,
        "round": draft.round,
        "at": draft.at,
        "run": draft.run.codes,
        "mounting": draft.mounting.codes,
    }
    told = [draft.round != NO_ROUND, draft.at != NO_TIME, draft.run.codes >= 0, draft.mounting.codes >= 0]
    if not any(flags.any() for flags in told):
        keys["stretch"] = np.cumsum(np.diff(draft.element.codes, prepend=-2) != 0)
    varying = {name: codes[places] for name, codes in keys.items() if len(codes) and np.ptp(codes) > 0}
    cells = pd.DataFrame(varying, index=places) if varying else pd.DataFrame({"all": np.zeros(len(places))})
    again = places[cells.duplicated().to_numpy()]
    if len(again):
        faults.at_rows(draft.row[again], lambda index: _told(draft, keys, int(again[index])))


def _told(draft: Draft, keys: dict[str, Codes], cell: int) -> tuple[str, str, object]:
    same = np.logical_and.reduce([codes[:cell] == codes[cell] for codes in keys.values()])
    first = int(draft.row[np.flatnonzero(same)[0]])
    detail = (
        f"This cell was given already, in row {first}. Take one of the two out; where both are scans, tell "
        "them apart by at, run or mounting."
    )
    return draft.heading(cell), detail, draft.channel.text(cell)
