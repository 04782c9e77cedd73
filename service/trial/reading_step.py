"""The step of the meter: as stated, usual for its unit, or the smallest that the readings show."""

import numpy as np

from service.trial.ordered_means import Numbers
from service.trial.trial import Meter

STATED = "stated"
USUAL = "usual for the unit"
SMALLEST_STEP = "smallest step in the readings"
NO_STEP = "none"


def reading_step(meter: Meter, values: Numbers) -> tuple[float | None, str]:
    """The step in meter units and where it is from; None where neither the meter nor the readings tell.

    Without a stated or usual step it is the smallest positive difference of two distinct readings, plainly
    subtracted; `values` are those of all readings, NaN where nothing was found.
    """
    if meter.resolution is not None:
        return meter.resolution, STATED if meter.resolution_stated else USUAL
    different = np.unique(values[np.isfinite(values)])
    if len(different) < 2:
        return None, NO_STEP
    return float(np.diff(different).min()), SMALLEST_STEP
